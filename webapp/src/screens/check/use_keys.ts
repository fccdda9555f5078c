// Keys for a table with a keyboard: 1 to 5 answer, arrows walk; never while somebody types or a sheet is open.
import { useEffect } from "preact/hooks";
import { OUTCOMES, type Outcome } from "../visit/words.ts";

export interface Keys { onOutcome: (outcome: Outcome) => void; onNeighbour: (by: 1 | -1) => void }

const TYPING = "input, textarea, select, [contenteditable], dialog";

export function useKeys({ onOutcome, onNeighbour }: Keys): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.altKey || event.ctrlKey || event.metaKey || event.defaultPrevented) return;
      if ((event.target as Element | null)?.closest?.(TYPING) || document.querySelector("dialog[open]")) return;
      const outcome = OUTCOMES[Number(event.key) - 1];
      if (outcome) onOutcome(outcome.id);
      else if (event.key === "ArrowRight") onNeighbour(1);
      else if (event.key === "ArrowLeft") onNeighbour(-1);
      else return;
      event.preventDefault();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  });
}
