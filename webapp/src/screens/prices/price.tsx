// One price note: everything on it can be put right, saved as it is typed; taken off with a way back.
import { useState } from "preact/hooks";
import { noteProblems } from "../../domain/price_text.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { Missing } from "../visit/missing.tsx";
import { MoneyField } from "../visit/money_field.tsx";
import { today } from "../visit/today.ts";
import { kept, plain } from "../visit/view.ts";
import { NoteFields } from "./note_fields.tsx";
import { type KeptNote, useGroups } from "./notes.ts";
import { moneyWords } from "./words.ts";

export default function Price({ params }: ScreenInput) {
  const id = params["note"]!;
  const note = useLive(async (store) => {
    const record = await store.get(id);
    return record?.kind === "price_note" && kept(record) ? plain(record) as KeptNote : null;
  }, [id]);
  const groups = useGroups();
  if (note === null) return <Missing what="price" />;
  if (!note || !groups) return <Waiting />;
  return <Fields key={id} note={note} groups={groups} />;
}

function Fields({ note, groups }: { note: KeptNote; groups: readonly string[] }) {
  const store = useStore();
  const [wrong, setWrong] = useState<{ field: "day" | "price" | "what"; words: string } | null>(null);
  const set = (values: Record<string, unknown>) => { store.set("price_note", note.id, values).catch((error: unknown) => tellFailure(error, () => set(values))); };
  /** Saves a field unless the note would be of no use with it; then the field keeps what was typed and says why. */
  const keep = (field: "day" | "price" | "what", value: unknown) => {
    const [problem] = noteProblems({ what: "x", price: { minor: 1, currency: "EUR" }, day: today(), [field]: value }, today());
    setWrong(problem ? { field, words: problem } : null);
    if (!problem) set({ [field]: value });
  };
  const wrongAt = (field: string) => (wrong?.field === field ? wrong.words : null);
  const back = address("/prices/group", { name: note.group });
  const remove = () => {
    store.remove("price_note", note.id).then(() => {
      go(back);
      showToast({ words: `Taken off: ${note.what}, ${moneyWords(note.price)}`, undo: () => set({ deleted: false }) });
    }, (error: unknown) => tellFailure(error, remove));
  };
  return (
    <Screen title={note.what || "Price"} over={`Price noted, ${moneyWords(note.price)}`} back={back} backWord="Back to its group">
      <Versions record={note.id} />
      <SavedField label="What was it?" max={120} saved={note.what ?? ""} wrong={wrongAt("what")} onSave={(what) => keep("what", what)} />
      <MoneyField label="Price" saved={note.price ?? null} onSave={(price) => keep("price", price)} />
      {wrongAt("price") && <Note tone="bad" alert><p>{wrongAt("price")} It stays {moneyWords(note.price)}.</p></Note>}
      <SavedField label="Group" max={80} suggestions={groups} saved={note.group ?? ""} onSave={(group) => set({ group: group.trim() })} />
      <SavedField label="Day" kind="date" saved={note.day ?? ""} wrong={wrongAt("day")} onSave={(day) => keep("day", day)} />
      <NoteFields note={note} onPick={set} />
      <SavedField label="Note" lines max={4000} saved={note.note ?? ""} onSave={(words) => set({ note: words })} />
      <Button kind="danger" icon="bin" onClick={remove}>Take this price off</Button>
    </Screen>
  );
}
