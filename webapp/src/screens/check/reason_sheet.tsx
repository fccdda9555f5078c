// One tap for why a check was not made; a typed reason where it is left out for good.
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";

/** The reason that takes words of the person's own. */
const OTHER = "other";

export interface NotCheckedSheetProps {
  reasons: readonly { id: string; title: string; hint?: string }[];
  already?: { reason?: string | null; reason_text?: string };
  onDone: (why: { reason: string; reason_text?: string }) => void;
  onClose: () => void;
}

export function NotCheckedSheet({ reasons, already, onDone, onClose }: NotCheckedSheetProps) {
  const [text, setText] = useState((already?.reason === OTHER && already.reason_text) || "");
  const other = reasons.find(({ id }) => id === OTHER);
  return (
    <Sheet title="Why not?" onClose={onClose}>
      <BigChoice legend="Reason" legendHidden options={reasons.filter((one) => one !== other).map(({ id, title }) => ({ value: id, label: title }))} value={already?.reason ?? null} onChoose={(reason) => onDone({ reason })} />
      {other && (
        <>
          <TextField label={other.title} hint={`${other.hint} The report gives it.`} value={text} max={400} onInput={setText} />
          <Button kind="strong" wide disabled={text.trim() === ""} onClick={() => onDone({ reason: OTHER, reason_text: text.trim() })}>Not checked for this reason</Button>
        </>
      )}
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
      <Button kind="strong" wide disabled={text.trim() === ""} onClick={() => onDone(text.trim())}>Leave it out</Button>
    </Sheet>
  );
}
