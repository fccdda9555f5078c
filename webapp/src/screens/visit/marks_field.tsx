// What it says on the piece, place by place, as read; "none marked" is an answer too.
import { useRef, useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { showToast } from "../../ui/toast.tsx";
import { useLeaving } from "../../ui/use_leaving.ts";

export interface MarkText { place: string; text: string; none_marked?: boolean }

const PLACES = ["front rim", "rear rim", "shutter face", "scale plate", "base", "back", "under the bed", "slide", "case"];

export function MarksField({ saved, onChange }: { saved: readonly MarkText[]; onChange: (make: (held: readonly MarkText[]) => readonly MarkText[]) => void }) {
  const [place, setPlace] = useState("");
  const [text, setText] = useState("");
  const takeOff = (index: number) => {
    onChange((held) => held.filter((_, other) => other !== index));
    showToast({ words: "Taken off what it says", undo: () => onChange(() => saved) });
  };
  const inside = useRef<HTMLDivElement>(null);
  // Words that were typed and left without a tap on Add are kept all the same.
  useLeaving(inside, () => { if (text.trim() !== "") add({ place: place.trim(), text: text.trim() }); });
  const add = (mark: MarkText) => {
    onChange((held) => [...held, mark]);
    setPlace("");
    setText("");
  };
  return (
    <details class="fold">
      <summary><span class="grow">What it says on it</span><span class="soft small figures">{saved.length || ""}</span></summary>
      <div class="inside stack" ref={inside}>
        {saved.length > 0 && (
          <ul class="lines">
            {saved.map((mark, index) => (
              <li class="row" key={`${index} ${mark.place}`}>
                <span class="grow"><span class="soft">{mark.place || "somewhere"}: </span>{mark.none_marked ? <em>none marked</em> : `“${mark.text}”`}</span>
                <Button kind="bare" icon="bin" label={`Take off what the ${mark.place || "piece"} says`} onClick={() => takeOff(index)} />
              </li>
            ))}
          </ul>
        )}
        <TextField label="Where" value={place} max={40} suggestions={PLACES} onInput={setPlace} />
        <TextField label="What it says" hint="As it stands there, spelling and all." value={text} max={200} onInput={setText} />
        <div class="row">
          <Button disabled={text.trim() === ""} onClick={() => add({ place: place.trim(), text: text.trim() })}>Add</Button>
          <Button disabled={place.trim() === "" || text.trim() !== ""} onClick={() => add({ place: place.trim(), text: "", none_marked: true })}>None marked there</Button>
        </div>
      </div>
    </details>
  );
}
