// The devices that share the book: how to let another one in, and how to shut one out.
import { useEffect, useState } from "preact/hooks";
import { pairedDevices, rename, shutOut, type PairedDevice } from "../../sync/pairing.ts";
import { ServerError } from "../../sync/server.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Icon } from "../../ui/icon.tsx";
import { showToast } from "../../ui/toast.tsx";

const words = (error: unknown) => (error instanceof ServerError ? `${error.message} ${error.hint ?? ""}`.trim() : "The server could not be asked.");

export function Devices() {
  const [devices, setDevices] = useState<PairedDevice[] | string | null>(null);
  const [naming, setNaming] = useState<string | null>(null);
  const read = () => { pairedDevices().then(setDevices, (error: unknown) => setDevices(words(error))); };
  useEffect(read, []);

  const failed = (error: unknown) => showToast({ words: words(error), failed: true });
  const callIt = (device: PairedDevice, name: string) => {
    setNaming(null);
    if (name !== "" && name !== device.name) rename(device.id, name).then(read, failed);
  };
  const shut = (device: PairedDevice) => {
    shutOut(device.id).then(() => { showToast({ words: `${device.name} is shut out; it can be paired again` }); read(); }, failed);
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
              <div>
                <span class="name">{device.name}{device.this && " (this phone)"}</span>
                <span class="under">last seen {new Date(device.seen_ms).toLocaleString(undefined, { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" })}</span>
                {naming === device.id
                  ? <TextField label={`Another name for ${device.name}`} value={device.name} max={80} onInput={() => undefined} onDone={(name) => callIt(device, name.trim())} />
                  : <Button kind="quiet" label={`Rename ${device.name}`} onClick={() => setNaming(device.id)}>Rename</Button>}
              </div>
              {!device.this && <Button kind="danger" label={`Shut out ${device.name}`} onClick={() => shut(device)}>Shut out</Button>}
            </li>
          ))}
        </ul>
      )}
      {Array.isArray(devices) && <Button icon="plus" href="#/device/another">Let another phone in</Button>}
    </>
  );
}
