// How loud it is right now, as a bar and a word; drawn without redrawing the screen.
import { useEffect, useRef } from "preact/hooks";

const QUIET = 0.02;
const LOUD = 0.8;
const CLIPPED = 0.97;
/** Pieces for which "clipped" stays readable. */
const STAYS = 150;
/** Pieces of about 20 ms after which nothing loud is worth a word. */
const LONG_QUIET = 250;

export function Level({ listen }: { listen: (hear: (peak: number) => void) => void }) {
  const bar = useRef<HTMLSpanElement>(null);
  const word = useRef<HTMLSpanElement>(null);

  useEffect(() => {
    let [held, loudest, heard, clippedAt] = [0, 0, 0, -STAYS];
    listen((peak) => {
      held = Math.max(peak, held * 0.9);
      loudest = Math.max(loudest * 0.998, peak);
      heard += 1;
      if (peak >= CLIPPED) clippedAt = heard;
      if (bar.current) bar.current.style.transform = `scaleX(${Math.min(1, Math.sqrt(held))})`;
      const said = heard - clippedAt < STAYS ? "Clipped: farther away, then again"
        : loudest >= LOUD ? "Too loud: a little farther away"
        : loudest >= QUIET ? "Heard something loud enough"
        : heard > LONG_QUIET ? "Too quiet: if you fired, come closer" : "Listening; nothing loud yet";
      if (word.current && word.current.textContent !== said) word.current.textContent = said;
    });
    return () => listen(() => undefined);
  }, []);

  return (
    <div class="level">
      <div class="level-bar"><span ref={bar} /></div>
      <span ref={word} role="status">Listening; nothing loud yet</span>
    </div>
  );
}
