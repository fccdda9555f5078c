// The photo with its numbered places and the drawn part; a finger taps or draws, a keyboard moves a cross and sets with Enter.
import { useRef, useState } from "preact/hooks";
import type { At, LeakPlace } from "../../domain/leak_reading.ts";
import { atPoint, at as spotAt, moved, spotWords } from "../photo/spots.ts";
import { cornersOf, simplified } from "./region.ts";

export interface LeakPictureProps {
  address: string;
  width: number;
  height: number;
  places: readonly LeakPlace[];
  region: readonly At[] | null;
  /** A finger draws the part that counts instead of adding a place. */
  drawing: boolean;
  brighter: boolean;
  onAdd: (at: At) => void;
  onRegion: (region: At[]) => void;
}

export function LeakPicture({ address, width, height, places, region, drawing, brighter, onAdd, onRegion }: LeakPictureProps) {
  const [cross, setCross] = useState<At | null>(null);
  const [corner, setCorner] = useState<At | null>(null);
  const [line, setLine] = useState<At[] | null>(null);
  const box = useRef<HTMLDivElement>(null);
  const under = (event: PointerEvent | MouseEvent) => atPoint(event.clientX, event.clientY, box.current!.getBoundingClientRect());

  const set = (place: At) => {
    if (!drawing) onAdd(place);
    else if (!corner) setCorner(place);
    else {
      setCorner(null);
      onRegion(cornersOf(corner, place));
    }
  };
  const onKey = (event: KeyboardEvent) => {
    const next = moved(cross ?? spotAt(0.5, 0.5), event.key, event.shiftKey);
    if (next) setCross(next);
    else if (event.key === "Enter" && cross) set(cross);
    else if (event.key === "Escape" && (cross || corner)) { setCross(null); setCorner(null); }
    else return;
    event.preventDefault();
  };
  const finish = () => {
    const drawn = simplified(line ?? []);
    setLine(null);
    if (drawn) onRegion(drawn);
  };
  const shape = (corners: readonly At[]) => corners.map(({ x, y }) => `${x * 100},${y * 100}`).join(" ");
  const help = drawing ? "Arrow keys move a cross; Enter sets one corner of the part, Enter again the opposite one." : "Arrow keys move a cross, Enter adds a place.";

  return (
    <div class="stack tight">
      <div ref={box} class={`spot-picture leak-picture${drawing ? " drawing" : ""}`} role="application" tabIndex={0} aria-label={`Photo in the dark. ${help}`}
        style={{ aspectRatio: `${width} / ${height}`, width: `min(100%, calc(62dvh * ${width / height}))` }}
        onKeyDown={onKey} onBlur={() => setCross(null)}
        onPointerDown={(event) => { if (drawing) { box.current!.setPointerCapture(event.pointerId); setLine([under(event)]); } }}
        onPointerMove={(event) => { if (line) setLine([...line, under(event)]); }}
        onPointerUp={finish} onPointerCancel={() => setLine(null)}
        onClick={(event) => { setCross(null); if (!drawing) onAdd(under(event)); }}
      >
        <img src={address} alt="" class={brighter ? "brighter" : undefined} />
        <svg viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
          {region && !line && <polygon class="part" points={shape(region)} />}
          {line && <polyline class="part" points={shape(line)} />}
        </svg>
        {places.map((place) => (
          <span key={place.number} class={`leak-ring ${place.said}`} style={{ left: `${place.at.x * 100}%`, top: `${place.at.y * 100}%` }} aria-hidden="true"><b>{place.number}</b></span>
        ))}
        {cross && <span class="spot-cross" style={{ left: `${cross.x * 100}%`, top: `${cross.y * 100}%` }} aria-hidden="true" />}
      </div>
      <p class="only-read" role="status">{[cross && spotWords(cross), corner && "first corner set"].filter(Boolean).join(", ")}</p>
    </div>
  );
}
