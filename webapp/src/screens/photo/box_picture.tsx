// A photo on which boxes are drawn: a finger drags from corner to corner, a keyboard sets two corners with a cross.
import { useRef, useState } from "preact/hooks";
import { StoredImage } from "../visit/stored_image.tsx";
import { boxBetween, type Box } from "./covering.ts";
import { at, atPoint, moved, spotWords, type At } from "./spots.ts";

export interface BoxPictureProps {
  hash: string;
  width: number;
  height: number;
  painted: readonly Box[];
  cut: Box | null;
  onBox: (box: Box) => void;
}

export function BoxPicture({ hash, width, height, painted, cut, onBox }: BoxPictureProps) {
  // A quick finger is up again before the next drawing: its first corner is kept beside what is drawn.
  const first = useRef<At | null>(null);
  const [from, draw] = useState<At | null>(null);
  const [to, setTo] = useState<At | null>(null);
  const [cross, setCross] = useState<At | null>(null);
  const picture = useRef<HTMLDivElement>(null);
  const under = (event: PointerEvent) => atPoint(event.clientX, event.clientY, picture.current!.getBoundingClientRect());
  const setFrom = (corner: At | null) => { first.current = corner; draw(corner); };
  const finish = (end: At | null) => {
    const box = first.current && end && boxBetween(first.current, end);
    setFrom(null);
    setTo(null);
    if (box) onBox(box);
  };
  const onKey = (event: KeyboardEvent) => {
    const next = moved(cross ?? at(0.5, 0.5), event.key, event.shiftKey);
    if (next) {
      setCross(next);
      if (from) setTo(next);
    } else if (event.key === "Enter" && cross) {
      if (first.current) finish(cross);
      else setFrom(cross);
    } else if (event.key === "Escape" && (cross || from)) {
      setCross(null);
      finish(null);
    } else return;
    event.preventDefault();
  };
  const drawing = from && to ? boxBetween(from, to) : null;
  const styleOf = (box: Box) => ({ left: `${box.x * 100}%`, top: `${box.y * 100}%`, width: `${box.width * 100}%`, height: `${box.height * 100}%` });
  return (
    <div class="stack tight">
      <div ref={picture} class="spot-picture boxes" role="application" tabIndex={0}
        aria-label="Photo. Arrow keys move a cross; Enter sets one corner of a box, Enter again the opposite one."
        style={{ aspectRatio: `${width} / ${height}`, width: `min(100%, calc(56dvh * ${width / height}))` }}
        onKeyDown={onKey} onBlur={() => setCross(null)}
        onPointerDown={(event) => { picture.current!.setPointerCapture(event.pointerId); setCross(null); setFrom(under(event)); setTo(null); }}
        onPointerMove={(event) => { if (first.current && !cross) setTo(under(event)); }}
        onPointerUp={(event) => finish(under(event))} onPointerCancel={() => finish(null)}
      >
        <StoredImage hash={hash} alt="" eager />
        {painted.map((box, index) => <span key={index} class="box painted" style={styleOf(box)} aria-hidden="true" />)}
        {cut && <span class="box cut" style={styleOf(cut)} aria-hidden="true" />}
        {drawing && <span class="box" style={styleOf(drawing)} aria-hidden="true" />}
        {cross && <span class="spot-cross" style={{ left: `${cross.x * 100}%`, top: `${cross.y * 100}%` }} aria-hidden="true" />}
      </div>
      <p class="only-read" role="status">{[cross && spotWords(cross), from && cross && "first corner set", `${painted.length} painted over`, cut && "a box to cut to"].filter(Boolean).join(", ")}</p>
    </div>
  );
}
