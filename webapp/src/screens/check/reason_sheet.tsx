// One tap for why a check was not made; a typed reason where it is left out for good.
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";

export interface NotCheckedSheetProps {
  reasons: readonly { id: string; title: string; hint?: string }[];
  already?: string | null;
  onDone: (reason: string) => void;
  onClose: () => void;
}

export function NotCheckedSheet({ reasons, already, onDone, onClose }: NotCheckedSheetProps) {
  return (
    <Sheet title="Why not?" onClose={onClose}>
      <BigChoice legend="Reason" legendHidden options={reasons.map(({ id, title }) => ({ value: id, label: title }))} value={already ?? null} onChoose={onDone} />
    </Sheet>
  );
}

const NO_SUCH_PART = "It has no such part";
const OTHER_KIND = "It is made another way";

/** Leaves a check out, visibly: the reason stands in the report. */
export function LeaveOutSheet({ onDone, onClose }: { onDone: (text: string) => void; onClose: () => void }) {
  const [text, setText] = useState("");
  return (
    <Sheet title="Does not apply: why?" onClose={onClose}>
      <p class="soft">The check is left out of the verdict. The report says so, with your reason.</p>
      <BigChoice legend="Reason" legendHidden oneColumn options={[{ value: NO_SUCH_PART, label: NO_SUCH_PART }, { value: OTHER_KIND, label: OTHER_KIND }]} onChoose={onDone} />
      <TextField label="Another reason" value={text} max={400} onInput={setText} />
      <Button wide disabled={text.trim() === ""} onClick={() => onDone(text.trim())}>Leave it out</Button>
    </Sheet>
  );
}
