// Figures that only show while a thumb holds a button down: the person across the table can read screens, too.
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Icon } from "../../ui/icon.tsx";
import "./deal.css";

/** How long it stays after a press by a screen reader, which cannot hold. */
const SHOWN_MS = 8000;

/** `brief`: nothing stands where the figures are until they show. */
export function Held({ words, brief, children }: { words: string; brief?: boolean; children: () => ComponentChildren }) {
  const [shown, setShown] = useState(false);
  /** Whether a finger or a key is behind the click that follows. */
  const byHand = useRef(false);
  const hide = () => setShown(false);
  const show = () => {
    byHand.current = true;
    setShown(true);
  };
  useEffect(() => {
    if (!shown) return undefined;
    const away = () => { if (document.visibilityState === "hidden") hide(); };
    document.addEventListener("visibilitychange", away);
    const timer = byHand.current ? undefined : setTimeout(hide, SHOWN_MS);
    return () => {
      document.removeEventListener("visibilitychange", away);
      clearTimeout(timer);
    };
  }, [shown]);
  const press = () => {
    if (byHand.current) byHand.current = false;
    else setShown(!shown);
  };
  // Captured, the finger keeps the button even where the figures push it away from under it.
  return (
    <div class="held stack tight">
      <div class="held-figures" aria-live="polite">{shown ? children() : !brief && <p class="soft small">Hidden: it shows only while you hold the button.</p>}</div>
      <button type="button" class="button wide held-button" aria-pressed={shown}
        onPointerDown={(event) => { event.currentTarget.setPointerCapture(event.pointerId); show(); }} onPointerUp={hide} onLostPointerCapture={hide} onPointerCancel={hide} onContextMenu={(event) => event.preventDefault()}
        onKeyDown={(event) => { if ((event.key === " " || event.key === "Enter") && !event.repeat) show(); }} onKeyUp={hide} onBlur={hide} onClick={press}>
        <Icon name="eye" />{words}
      </button>
    </div>
  );
}
