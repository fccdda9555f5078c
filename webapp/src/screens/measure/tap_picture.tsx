// A photo to tap on: four marks one after the other, closer where a finger needs it, arrows for the last pixel.
import { useEffect, useRef, useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { PickField } from "../../ui/field.tsx";
import { NAMES, nudged, type Tap, tapAt } from "./taps.ts";

export interface TapPictureProps { photo: { file: Blob; width: number; height: number }; taps: readonly (Tap | undefined)[]; onTaps: (taps: readonly (Tap | undefined)[]) => void }

export function TapPicture({ photo, taps, onTaps }: TapPictureProps) {
  const [address, setAddress] = useState<string | null>(null);
  const [zoom, setZoom] = useState(1);
  const [at, setAt] = useState(0);
  const sheet = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const made = URL.createObjectURL(photo.file);
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [photo.file]);

  const put = (tap: Tap, then: number) => {
    onTaps(NAMES.map((_, index) => (index === at ? tap : taps[index])));
    setAt(then);
  };
  const onClick = (event: MouseEvent) => {
    const box = sheet.current!.getBoundingClientRect();
    put(tapAt(event.clientX - box.left, event.clientY - box.top, box.width, photo.width), Math.min(at + 1, NAMES.length - 1));
  };
  const onKey = (event: KeyboardEvent) => {
    const shown = sheet.current!.getBoundingClientRect().width;
    if (event.key === "Enter") setAt((at + 1) % NAMES.length);
    else {
      const next = nudged(taps[at] ?? tapAt(shown / 2, (shown / 2) * (photo.height / photo.width), shown, photo.width), event.key, event.shiftKey, photo.width / shown);
      if (!next) return;
      put(next, at);
    }
    event.preventDefault();
  };
  return (
    <div class="stack tight">
      <PickField label="Tap now" value={String(at)} options={NAMES.map((name, index) => ({ value: String(index), label: `${index + 1}. ${name}${taps[index] ? " (there)" : ""}` }))} onPick={(value) => setAt(Number(value))} />
      <div class="tap-window">
        <div ref={sheet} class="tap-sheet" style={{ width: `${zoom * 100}%`, aspectRatio: `${photo.width} / ${photo.height}` }} role="application" tabIndex={0}
          aria-label={`Photo with a ruler. Arrow keys move the mark "${NAMES[at]}", Enter goes to the next.`} onClick={onClick} onKeyDown={onKey}>
          {address && <img src={address} alt="" />}
          <svg viewBox={`0 0 ${photo.width} ${photo.height}`} aria-hidden="true">
            {[0, 2].map((first) => taps[first] && taps[first + 1] && <line key={first} x1={taps[first]!.x} y1={taps[first]!.y} x2={taps[first + 1]!.x} y2={taps[first + 1]!.y} />)}
          </svg>
          {taps.map((tap, index) => tap && <span key={index} class={`tap-mark${index === at ? " now" : ""}`} style={{ left: `${(tap.x / photo.width) * 100}%`, top: `${(tap.y / photo.height) * 100}%` }} aria-hidden="true">{index + 1}</span>)}
        </div>
      </div>
      <div class="row">
        <Button onClick={() => setZoom(Math.min(zoom * 2, 16))} disabled={zoom >= 16}>Closer</Button>
        <Button onClick={() => setZoom(Math.max(zoom / 2, 1))} disabled={zoom <= 1}>Farther</Button>
      </div>
      <p class="small soft">Tap closer for a narrower interval. {NAMES[at]}: a tap, or arrow keys.</p>
    </div>
  );
}
