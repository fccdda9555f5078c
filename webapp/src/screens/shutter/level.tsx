// How loud it is right now, as a bar and a word; drawn without redrawing the screen.
import { useEffect, useRef } from "preact/hooks";
import { LevelWords, NOTHING_YET } from "./level_words.ts";

/** What the bar keeps of a peak from one piece to the next. */
const FALLS = 0.9;

export function Level({ listen }: { listen: (hear: (peak: number) => void) => void }) {
  const bar = useRef<HTMLSpanElement>(null);
  const word = useRef<HTMLSpanElement>(null);

  useEffect(() => {
    const words = new LevelWords();
    let held = 0;
    listen((peak) => {
      held = Math.max(peak, held * FALLS);
      if (bar.current) bar.current.style.transform = `scaleX(${Math.min(1, Math.sqrt(held))})`;
      const said = words.hear(peak);
      if (word.current && word.current.textContent !== said) word.current.textContent = said;
    });
    return () => listen(() => undefined);
  }, []);

  return (
    <div class="level">
      <div class="level-bar"><span ref={bar} /></div>
      <span ref={word} role="status">{NOTHING_YET}</span>
    </div>
  );
}
