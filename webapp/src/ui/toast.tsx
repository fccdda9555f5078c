// One short word at the bottom after an action, with the way back; it replaces every "are you sure".
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { Button } from "./button.tsx";
import { Icon } from "./icon.tsx";
import { here } from "./route.ts";
import { useRoom } from "./use_room.ts";

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

/** Screens a word outlives: one, since what takes a thing off also leads away from it. Further on it would lie over other work. */
const OUTLIVES = 1;

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

  const { path } = here.value;
  const since = useRef({ turn: 0, path, screens: 0 });
  useEffect(() => {
    const { current } = since;
    if (!toast || current.turn !== toast.turn) since.current = { turn: toast?.turn ?? 0, path, screens: 0 };
    else if (current.path !== path) {
      since.current = { ...current, path, screens: current.screens + 1 };
      if (current.screens >= OUTLIVES && !toast.failed) hideToast();
    }
  }, [toast?.turn, path]);

  const bar = useRef<HTMLDivElement>(null);
  useRoom(bar, "--word-room", true);

  return (
    <div ref={bar} class="toasts" role={toast?.failed ? "alert" : "status"}>
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
