// A counted list of what comes with the piece, and what does not (a count of none).
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { showToast } from "../../ui/toast.tsx";

export interface Content { item: string; count: number }

const USUAL = ["retaining ring", "flange", "lens board", "front cap", "rear cap", "shims", "ground glass", "fresnel", "rail clamp", "cable release", "film sheaths", "bag", "manual"];
const MOST = 999;

export function ContentsField({ saved, onChange }: { saved: readonly Content[]; onChange: (make: (held: readonly Content[]) => readonly Content[]) => void }) {
  const [item, setItem] = useState("");
  const change = (index: number, by: number) =>
    onChange((held) => held.map((one, other) => (other === index ? { ...one, count: Math.min(MOST, Math.max(0, one.count + by)) } : one)));
  const takeOff = (index: number) => {
    onChange((held) => held.filter((_, other) => other !== index));
    showToast({ words: `${saved[index]!.item}: taken off the list`, undo: () => onChange(() => saved) });
  };
  const add = (count: number) => {
    onChange((held) => [...held, { item: item.trim(), count }]);
    setItem("");
  };
  return (
    <details class="fold">
      <summary><span class="grow">What comes with it</span><span class="soft small figures">{saved.length || ""}</span></summary>
      <div class="inside stack">
        <ul class="lines">
          {saved.map((one, index) => (
            <li class="row" key={`${index} ${one.item}`}>
              <span class="grow">{one.item}{one.count === 0 && <span class="soft"> (not with it)</span>}</span>
              <Button icon="cross" kind="bare" label={`One ${one.item} less`} disabled={one.count === 0} onClick={() => change(index, -1)} />
              <output class="figures" aria-label={`${one.item}: ${one.count}`}>{one.count}</output>
              <Button icon="plus" kind="bare" label={`One ${one.item} more`} onClick={() => change(index, 1)} />
              <Button icon="bin" kind="bare" label={`Take ${one.item} off the list`} onClick={() => takeOff(index)} />
            </li>
          ))}
        </ul>
        <TextField label="Thing" value={item} max={80} suggestions={USUAL} onInput={setItem} />
        <div class="row">
          <Button disabled={item.trim() === ""} onClick={() => add(1)}>It is there</Button>
          <Button disabled={item.trim() === ""} onClick={() => add(0)}>It is missing</Button>
        </div>
      </div>
    </details>
  );
}
