// Copies of published versions on this phone: handed on by the share sheet with or without a signal.
import { shareFile } from "../../device/share.ts";
import { useLive } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { showToast } from "../../ui/toast.tsx";
import { copiesOf } from "./copies.ts";

const kindOf = (type: string) => (type === "application/pdf" ? "PDF" : "One file");

export function CopyList({ about }: { about: string }) {
  const copies = useLive((store) => copiesOf(store, about), [about]);
  if (!copies || copies.length === 0) return null;
  const handOn = async (name: string, type: string, bytes: ArrayBuffer) => {
    if ((await shareFile(name, type, bytes)) === "saved") showToast({ words: `Saved as ${name}` });
  };
  return (
    <section class="stack" aria-labelledby="copies">
      <h2 id="copies">Copies on this phone</h2>
      <p class="soft">Ready to be handed on without a signal. They are the files as published.</p>
      <ul class="lines">
        {copies.map(({ publication, version, title, files }) => (
          <li key={publication} class="stack tight">
            <span>Version {version} <span class="soft small">· {title}</span></span>
            <span class="row">
              {files.map(({ name, type, bytes }) => (
                <Button key={name} icon="share" label={`${kindOf(type)} of version ${version}`} onClick={() => void handOn(name, type, bytes)}>{kindOf(type)}</Button>
              ))}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
