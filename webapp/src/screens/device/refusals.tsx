// Edits that the server would not take, with its reason; they stay on this phone.
import records from "@catalogue/records.json";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Note } from "../../ui/notes.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";

export function Refusals() {
  const store = useStore();
  const refusals = useLive(async (s) => { await s.meta.get("unsaved_since"); return s.out.refusals(); }, []);
  if (!refusals || refusals.length === 0) return null;
  return (
    <Note tone="care" title="The server did not take these">
      <ul class="stack tight">
        {refusals.map(({ id, change, message }) => (
          <li key={id} class="row">
            <span class="grow">{change.kind.replaceAll("_", " ")}, {change.field.replaceAll("_", " ")}: {message}{change.kind in records.kinds ? "" : " It may need a newer server."}</span>
            <Button onClick={() => { store.out.dismiss(id).catch((error: unknown) => tellFailure(error)); }}>Read</Button>
          </li>
        ))}
      </ul>
    </Note>
  );
}
