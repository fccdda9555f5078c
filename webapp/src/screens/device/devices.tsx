// The devices that share the book: how to let another one in, and how to shut one out.
import { useEffect, useState } from "preact/hooks";
import { codeForAnother, pairedDevices, shutOut, type PairedDevice } from "../../sync/pairing.ts";
import { ServerError } from "../../sync/server.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { Note } from "../../ui/notes.tsx";
import { showToast } from "../../ui/toast.tsx";

const words = (error: unknown) => (error instanceof ServerError ? `${error.message} ${error.hint ?? ""}`.trim() : "The server could not be asked.");

export function Devices() {
  const [devices, setDevices] = useState<PairedDevice[] | string | null>(null);
  const [code, setCode] = useState<{ code: string; link: string } | null>(null);
  const read = () => { pairedDevices().then(setDevices, (error: unknown) => setDevices(words(error))); };
  useEffect(read, []);

  const let_in = () => { codeForAnother().then(setCode, (error: unknown) => showToast({ words: words(error), failed: true })); };
  const shut = (device: PairedDevice) => {
    shutOut(device.id).then(() => { showToast({ words: `${device.name} is shut out; it can be paired again` }); read(); }, (error: unknown) => showToast({ words: words(error), failed: true }));
  };

  return (
    <>
      {devices === null && <p class="soft">Asking the server…</p>}
      {typeof devices === "string" && <p class="soft">{devices}</p>}
      {Array.isArray(devices) && (
        <ul class="lines">
          {devices.map((device) => (
            <li key={device.id} class="line">
              <Icon name="gear" />
              <span><span class="name">{device.name}{device.this && " (this phone)"}</span><span class="under">last seen {new Date(device.seen_ms).toLocaleString(undefined, { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" })}</span></span>
              {!device.this && <Button kind="danger" label={`Shut out ${device.name}`} onClick={() => shut(device)}>Shut out</Button>}
            </li>
          ))}
        </ul>
      )}
      {Array.isArray(devices) && <Button icon="plus" onClick={let_in}>Let another phone in</Button>}
      {code && <Note tone="tell" title={code.code}><p>Type it there within 15 minutes, or open <span class="wrap-anywhere">{code.link}</span>. It works once.</p></Note>}
    </>
  );
}
