// A person may call a piece parts only, whatever the checks say; they give the reason, and can take it back.
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";

export function PartsOnly({ saved, onSave }: { saved: { reason: string } | null; onSave: (value: { reason: string } | null) => void }) {
  const [reason, setReason] = useState(saved?.reason ?? "");
  return (
    <details class="fold">
      <summary><span class="grow">Parts only</span>{saved && <span class="small">called so</span>}</summary>
      <div class="inside stack">
        <TextField label="Why it is worth only its parts" hint="The report gives this reason." value={reason} max={400} onInput={setReason} />
        <div class="row">
          <Button disabled={reason.trim() === ""} onClick={() => onSave({ reason: reason.trim() })}>{saved ? "Keep the new reason" : "Call it parts only"}</Button>
          {saved && <Button icon="undo" onClick={() => onSave(null)}>Take it back</Button>}
        </div>
      </div>
    </details>
  );
}
