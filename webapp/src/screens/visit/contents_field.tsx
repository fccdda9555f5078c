// A counted list of what comes with the piece, and what does not (a count of none).
import { useState } from "preact/hooks";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";

export interface Content { item: string; count: number }

const USUAL = ["retaining ring", "flange", "lens board", "front cap", "rear cap", "shims", "ground glass", "fresnel", "rail clamp", "cable release", "film sheaths", "bag", "manual"];
const MOST = 999;

/** A thing typed and not added yet, kept over another screen and a closed app: there or missing is for the person to say. */
function useDraft(piece: string): [string, (text: string) => void, (text: string) => void] {
  const store = useStore();
  const kept = useLive((from) => from.meta.get("thing_drafts"), []);
  const [typed, setTyped] = useState<string | null>(null);
  const keep = (text: string) => {
    store.meta.change("thing_drafts", (held) => {
      const { [piece]: _, ...others } = held ?? {};
      return text.trim() === "" ? others : { ...others, [piece]: text };
    }).catch((error: unknown) => tellFailure(error));
  };
  return [typed ?? kept?.[piece] ?? "", setTyped, keep];
}

export interface ContentsFieldProps { piece: string; saved: readonly Content[]; onChange: (make: (held: readonly Content[]) => readonly Content[]) => void }

export function ContentsField({ piece, saved, onChange }: ContentsFieldProps) {
  const [item, setItem, keepItem] = useDraft(piece);
  const change = (index: number, by: number) =>
    onChange((held) => held.map((one, other) => (other === index ? { ...one, count: Math.min(MOST, Math.max(0, one.count + by)) } : one)));
  const takeOff = (index: number) => {
    onChange((held) => held.filter((_, other) => other !== index));
    showToast({ words: `${saved[index]!.item}: taken off the list`, undo: () => onChange(() => saved) });
  };
  const add = (count: number) => {
    onChange((held) => [...held, { item: item.trim(), count }]);
    setItem("");
    keepItem("");
  };
  return (
    <details class="fold">
      <summary><span class="grow">What comes with it</span><span class="soft small figures">{[saved.length || "", item.trim() && "1 not added yet"].filter(Boolean).join(", ")}</span></summary>
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
        <TextField label="Thing" value={item} max={80} suggestions={USUAL} onInput={setItem} onPause={keepItem} onDone={keepItem} />
        <div class="row">
          <Button disabled={item.trim() === ""} onClick={() => add(1)}>It is there</Button>
          <Button disabled={item.trim() === ""} onClick={() => add(0)}>It is missing</Button>
        </div>
      </div>
    </details>
  );
}
