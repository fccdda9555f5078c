// Fingers on the waveform: one near a mark moves it, one elsewhere moves the view, two zoom; the page still scrolls up and down.
import { useRef } from "preact/hooks";
import { along, type Marks, pinched, type Span } from "./view_span.ts";

/** How near to a mark a finger takes hold of it, CSS pixels. */
const REACH_PX = 24;

export interface WaveFingers {
  span: Span;
  lengthS: number;
  marks: Marks;
  onSpan: (span: Span) => void;
  onMark: (which: keyof Marks, s: number) => void;
  /** The finger left a mark it had moved. */
  onDrop: (which: keyof Marks, s: number) => void;
  /** A second finger came: the mark goes back. */
  onLetGo: () => void;
}

interface Finger { x: number; s: number }

export function useWaveFingers(given: WaveFingers) {
  const now = useRef(given);
  now.current = given;
  const fingers = useRef(new Map<number, Finger>());
  const held = useRef<keyof Marks | null>(null);
  const moved = useRef(false);

  const place = (event: PointerEvent) => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    const { span } = now.current;
    const at = (event.clientX - box.left) / box.width;
    return { at, s: span.from_s + at * (span.to_s - span.from_s), pxPerS: box.width / (span.to_s - span.from_s), box };
  };

  const nearest = (s: number, pxPerS: number): keyof Marks | null => {
    const { open_s, close_s } = now.current.marks;
    const which = Math.abs(s - open_s) <= Math.abs(s - close_s) ? "open_s" : "close_s";
    return Math.abs(s - now.current.marks[which]) * pxPerS <= REACH_PX ? which : null;
  };

  const onPointerDown = (event: PointerEvent) => {
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    const { s, pxPerS, box } = place(event);
    // Where the first finger is now: the view may have moved under it.
    const { span } = now.current;
    for (const finger of fingers.current.values()) finger.s = span.from_s + ((finger.x - box.left) / box.width) * (span.to_s - span.from_s);
    fingers.current.set(event.pointerId, { x: event.clientX, s });
    if (fingers.current.size === 1) {
      held.current = nearest(s, pxPerS);
      moved.current = false;
    } else if (held.current) {
      held.current = null;
      now.current.onLetGo();
    }
  };

  const onPointerMove = (event: PointerEvent) => {
    const finger = fingers.current.get(event.pointerId);
    if (!finger) return;
    const { s, box } = place(event);
    const [one, other] = fingers.current.values();
    if (held.current) {
      moved.current = true;
      now.current.onMark(held.current, s);
    } else if (one && other) {
      finger.x = event.clientX;
      const at = ({ x }: Finger) => (x - box.left) / box.width;
      now.current.onSpan(pinched({ s: one.s, at: at(one) }, { s: other.s, at: at(other) }, now.current.lengthS));
    } else {
      now.current.onSpan(along(now.current.span, (finger.x - event.clientX) / box.width, now.current.lengthS));
      finger.x = event.clientX;
    }
  };

  const onPointerUp = (event: PointerEvent) => {
    if (!fingers.current.delete(event.pointerId)) return;
    if (held.current && moved.current) now.current.onDrop(held.current, place(event).s);
    held.current = null;
  };

  const onPointerCancel = (event: PointerEvent) => {
    fingers.current.delete(event.pointerId);
    if (held.current) now.current.onLetGo();
    held.current = null;
  };

  return { onPointerDown, onPointerMove, onPointerUp, onPointerCancel };
}
