// The photo with its numbered spots: a finger marks by tapping, a keyboard by a cross that arrows move.
import { useState } from "preact/hooks";
import { StoredImage } from "../visit/stored_image.tsx";
import { at, atPoint, moved, spotWords, type At } from "./spots.ts";

export interface SpotPictureProps {
  hash: string;
  alt: string;
  /** Whose phone took it. */
  by?: string;
  width: number;
  height: number;
  spots: readonly { id: string; at: At }[];
  onMark: (at: At) => void;
}

export function SpotPicture({ hash, alt, by, width, height, spots, onMark }: SpotPictureProps) {
  const [cross, setCross] = useState<At | null>(null);
  const onKey = (event: KeyboardEvent) => {
    const from = cross ?? at(0.5, 0.5);
    const next = moved(from, event.key, event.shiftKey);
    if (next) setCross(next);
    else if (event.key === "Enter" && cross) onMark(cross);
    else if (event.key === "Escape" && cross) setCross(null);
    else return;
    event.preventDefault();
  };
  return (
    <div class="stack tight">
      <div
        class="spot-picture"
        role="application"
        tabIndex={0}
        aria-label={`${alt}. Arrow keys move a cross, Enter marks a spot.`}
        style={{ aspectRatio: `${width} / ${height}`, width: `min(100%, calc(62dvh * ${width / height}))` }}
        onKeyDown={onKey}
        onBlur={() => setCross(null)}
        onClick={(event) => { setCross(null); onMark(atPoint(event.clientX, event.clientY, event.currentTarget.getBoundingClientRect())); }}
      >
        <StoredImage hash={hash} alt="" by={by} eager />
        {spots.map((spot, index) => (
          <span key={spot.id} class="spot" style={{ left: `${spot.at.x * 100}%`, top: `${spot.at.y * 100}%` }} aria-hidden="true">{index + 1}</span>
        ))}
        {cross && <span class="spot-cross" style={{ left: `${cross.x * 100}%`, top: `${cross.y * 100}%` }} aria-hidden="true" />}
      </div>
      <p class="only-read" role="status">{cross ? spotWords(cross) : ""}</p>
    </div>
  );
}
