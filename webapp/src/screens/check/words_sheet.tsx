// Two kinds of words at a check, kept apart: a remark that the report shows, and a note that nobody else reads.
import { useState } from "preact/hooks";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { saveWords, type Spot } from "./save.ts";

export interface WordsSheetProps { spot: Spot; remark: string; note: string; onClose: () => void }

export function WordsSheet({ spot, remark: savedRemark, note: savedNote, onClose }: WordsSheetProps) {
  const store = useStore();
  const [remark, setRemark] = useState(savedRemark);
  const [note, setNote] = useState(savedNote);
  const save = (words: { remark?: string; note?: string }) => {
    saveWords(store, spot, words).catch((error: unknown) => tellFailure(error, () => save(words)));
  };
  const leave = () => {
    if (remark !== savedRemark) save({ remark });
    if (note !== savedNote) save({ note });
    onClose();
  };
  return (
    <Sheet title="Words" onClose={leave}>
      <TextField label="Remark for the report" hint="The next buyer reads this." lines max={1000} value={remark} onInput={setRemark} />
      <TextField label="Private note" hint="Stays with you; never in a report." lines max={4000} value={note} onInput={setNote} />
      <Button kind="strong" wide onClick={leave}>Done</Button>
    </Sheet>
  );
}
