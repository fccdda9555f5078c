// One short word at the bottom after an action, with the way back; it replaces every "are you sure".
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { Button } from "./button.tsx";
import { Icon } from "./icon.tsx";

export interface ToastWords {
  words: string;
  /** Takes the action back; the toast goes once it is pressed. */
  undo?: () => void;
  /** Something failed: stays until closed. */
  failed?: boolean;
  /** Tries the failed action once more. */
  again?: () => void;
  /** Leads on from what was done. */
  more?: { word: string; run: () => void };
}

const shown = signal<(ToastWords & { turn: number }) | null>(null);
let turns = 0;

/** Seconds a word stays: long enough to read aloud and reach with a thumb. */
const STAYS_MS = 7000;

export function showToast(toast: ToastWords): void {
  turns += 1;
  shown.value = { ...toast, turn: turns };
}

export function hideToast(): void {
  shown.value = null;
}

export function Toasts() {
  const toast = shown.value;
  useEffect(() => {
    if (!toast || toast.failed) return undefined;
    const timer = setTimeout(() => { if (shown.peek()?.turn === toast.turn) hideToast(); }, STAYS_MS);
    return () => clearTimeout(timer);
  }, [toast?.turn]);

  return (
    <div class="toasts" role={toast?.failed ? "alert" : "status"}>
      {toast && (
        <div class="toast" key={toast.turn}>
          {toast.failed && <Icon name="warn" />}
          <span>{toast.words}</span>
          {toast.undo && <Button icon="undo" onClick={() => { hideToast(); toast.undo!(); }}>Undo</Button>}
          {toast.again && <Button onClick={() => { hideToast(); toast.again!(); }}>Try again</Button>}
          {toast.more && <Button onClick={() => { hideToast(); toast.more!.run(); }}>{toast.more.word}</Button>}
          <Button kind="bare" icon="cross" label="Close this word" onClick={hideToast} />
        </div>
      )}
    </div>
  );
}
