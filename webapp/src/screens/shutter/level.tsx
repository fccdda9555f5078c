// How loud it is right now, as a bar and a word; drawn without redrawing the screen.
import { useEffect, useRef } from "preact/hooks";

const QUIET = 0.02;
const LOUD = 0.97;

export function Level({ listen }: { listen: (hear: (peak: number) => void) => void }) {
  const bar = useRef<HTMLSpanElement>(null);
  const word = useRef<HTMLSpanElement>(null);

  useEffect(() => {
    let [held, loudest] = [0, 0];
    listen((peak) => {
      held = Math.max(peak, held * 0.9);
      loudest = Math.max(loudest, peak);
      if (bar.current) bar.current.style.transform = `scaleX(${Math.min(1, Math.sqrt(held))})`;
      const said = loudest >= LOUD ? "Too loud: a little farther away" : loudest < QUIET ? "Listening; nothing loud yet" : "Heard something loud enough";
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
