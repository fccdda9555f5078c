// Typing into a depth book without waiting for the phone: figures show at once, and each step can be taken back.
import { useRef, useState } from "preact/hooks";
import { tellFailure } from "../../ui/tell_failure.ts";
import type { DepthBook, Typed } from "./depth_book.ts";
import { nextOpen } from "./depth_entry.ts";

export interface Depths {
  readonly typed: ReadonlyMap<string, Typed>;
  /** The point asked for; null when all are there. */
  readonly at: string | null;
  readonly go: (place: string) => void;
  readonly put: (place: string, typed: Typed) => void;
  /** Takes the last figure back and asks for it again; null when there is nothing to take back. */
  readonly undo: (() => void) | null;
}

export function useDepths(book: DepthBook): Depths {
  const [fresh, setFresh] = useState<ReadonlyMap<string, Typed | null>>(new Map());
  const [chosen, setChosen] = useState<string | null | undefined>(undefined);
  const steps = useRef<{ place: string; before: Typed | null }[]>([]);

  const typed = new Map(book.typed);
  for (const [place, one] of fresh) {
    if (one) typed.set(place, one);
    else typed.delete(place);
  }
  const keep = (place: string, one: Typed | null) => {
    setFresh((now) => new Map(now).set(place, one));
    const save = () => book.keep(place, one).catch((error: unknown) => tellFailure(error, () => void save()));
    void save();
  };
  const put = (place: string, one: Typed) => {
    steps.current.push({ place, before: typed.get(place) ?? null });
    keep(place, one);
    setChosen(nextOpen(book.order, new Map(typed).set(place, one), place));
  };
  const undo = () => {
    const last = steps.current.pop();
    if (!last) return;
    keep(last.place, last.before);
    setChosen(last.place);
  };
  const at = chosen === undefined ? nextOpen(book.order, typed, null) : chosen;
  return { typed, at, go: setChosen, put, undo: steps.current.length > 0 ? undo : null };
}
