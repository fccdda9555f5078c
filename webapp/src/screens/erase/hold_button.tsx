// A button that one thumb holds down: nothing happens by a touch in passing. A screen reader presses twice instead.
import { useEffect, useRef, useState } from "preact/hooks";

/** Long enough that no pocket and no slip does it. */
const HOLD_MS = 2000;
/** How long a first press waits for its second. */
const ARMED_MS = 10_000;

export function HoldButton({ words, disabled, onHeld }: { words: string; disabled?: boolean; onHeld: () => void }) {
  const [holding, setHolding] = useState(false);
  const [armed, setArmed] = useState(false);
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null);
  /** Whether a finger or a key is behind the click that follows. */
  const byHand = useRef(false);
  const stop = () => {
    if (timer.current) clearTimeout(timer.current);
    timer.current = null;
    setHolding(false);
  };
  const begin = () => {
    if (disabled || timer.current) return;
    byHand.current = true;
    setHolding(true);
    timer.current = setTimeout(() => { stop(); onHeld(); }, HOLD_MS);
  };
  useEffect(() => stop, []);
  useEffect(() => {
    if (!armed) return undefined;
    const calm = setTimeout(() => setArmed(false), ARMED_MS);
    return () => clearTimeout(calm);
  }, [armed]);
  const press = () => {
    if (byHand.current) byHand.current = false;
    else if (armed) onHeld();
    else setArmed(true);
  };
  return (
    <div class="stack tight">
      <button type="button" class={`button danger wide hold${holding ? " holding" : ""}`} disabled={disabled} style={{ "--hold": `${HOLD_MS}ms` }}
        onPointerDown={begin} onPointerUp={stop} onPointerLeave={stop} onPointerCancel={stop} onContextMenu={(event) => event.preventDefault()}
        onKeyDown={(event) => { if ((event.key === " " || event.key === "Enter") && !event.repeat) begin(); }} onKeyUp={stop} onBlur={stop} onClick={press}>
        {words}
      </button>
      <p class="soft small" role="status">{armed ? "Press once more within ten seconds to erase it for good." : holding ? "Keep holding…" : "Hold it down for two seconds. Letting go stops it."}</p>
    </div>
  );
}
