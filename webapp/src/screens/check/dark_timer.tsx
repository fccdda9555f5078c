// Red-dark screen that counts down while the eyes settle for the coat test; no sound, no shake, no hurry.
import { useEffect, useRef, useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { redNow } from "../../ui/look.ts";

/** Eyes need 60 to 120 s in the dark before a pinhole shows (handbook section 4). */
const SETTLE_S = 90;

export function DarkTimer({ onClose }: { onClose: () => void }) {
  const [endsMs] = useState(() => Date.now() + SETTLE_S * 1000);
  const [left, setLeft] = useState(SETTLE_S);
  const dialog = useRef<HTMLDialogElement>(null);
  const settled = left <= 0;

  useEffect(() => {
    redNow.value = true;
    dialog.current!.showModal();
    const timer = setInterval(() => setLeft(Math.max(0, Math.ceil((endsMs - Date.now()) / 1000))), 250);
    return () => {
      redNow.value = false;
      clearInterval(timer);
    };
  }, [endsMs]);

  return (
    <dialog class="settle" ref={dialog} aria-label="Eyes settle in the dark" onCancel={onClose}>
      <p>Coat over your head, front to the light, hands off the lamp.</p>
      <p class="count figures" aria-hidden="true">{settled ? "look" : left}</p>
      <p role="status">{settled ? "Your eyes are ready. Look along every fold and corner, at each length." : "Eyes settle. Feel the folds while you wait."}</p>
      <Button wide onClick={onClose}>{settled ? "Done looking" : "Stop"}</Button>
    </dialog>
  );
}
