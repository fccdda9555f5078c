// Two kinds of words at a check, kept apart: a remark that the report shows, and a note that nobody else reads.
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { SavedField } from "../../ui/saved_field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { saveWords, type Spot } from "./save.ts";

export interface WordsSheetProps { spot: Spot; remark: string; note: string; onClose: () => void }

export function WordsSheet({ spot, remark, note, onClose }: WordsSheetProps) {
  const store = useStore();
  const save = (words: { remark?: string; note?: string }) => {
    saveWords(store, spot, words).catch((error: unknown) => tellFailure(error, () => save(words)));
  };
  return (
    <Sheet title="Words" onClose={onClose}>
      <SavedField label="Remark for the report" hint="The next buyer reads this." lines max={1000} saved={remark} onSave={(text) => save({ remark: text })} />
      <SavedField label="Private note" hint="Stays with you; never in a report." lines max={4000} saved={note} onSave={(text) => save({ note: text })} />
      <Button kind="strong" wide onClick={onClose}>Done</Button>
    </Sheet>
  );
}
