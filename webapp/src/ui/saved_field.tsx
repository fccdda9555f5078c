// A text field that saves by itself, and follows what is saved elsewhere while nobody types in it.
import { useEffect, useRef, useState } from "preact/hooks";
import { TextField, type TextFieldProps } from "./field.tsx";

export interface SavedFieldProps extends Omit<TextFieldProps, "value" | "onInput" | "onDone" | "onPause"> {
  saved: string;
  onSave: (text: string) => void;
}

export function SavedField({ saved, onSave, ...field }: SavedFieldProps) {
  const [draft, setDraft] = useState<string | null>(null);
  const typing = useRef(false);
  // What was typed stands until it is saved, also when saving failed; a change from another tab or phone waits for the typing to end.
  useEffect(() => { if (!typing.current) setDraft(null); }, [saved]);
  const save = (text: string) => { if (text !== saved) onSave(text); };
  return (
    <TextField {...field} value={draft ?? saved}
      onInput={(text) => { typing.current = true; setDraft(text); }}
      onPause={save}
      onDone={(text) => {
        typing.current = false;
        if (text.trim() === saved) setDraft(null);
        save(text);
      }} />
  );
}
