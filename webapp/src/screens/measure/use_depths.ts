// Typing into a depth book without waiting for the phone or the screen: a caliper types faster than either.
import { useRef, useState } from "preact/hooks";
import { tellFailure } from "../../ui/tell_failure.ts";
import type { DepthBook, Typed } from "./depth_book.ts";
import { mmOf, nextOpen } from "./depth_entry.ts";

/** What has been typed here, over what the book holds; always up to date, however late the screen is drawn. */
export class Depths {
  book: DepthBook;
  readonly #drawn: () => void;
  readonly #fresh = new Map<string, Typed | null>();
  readonly #steps: { place: string; before: Typed | null }[] = [];
  #chosen: string | null = null;
  /** One after the other: a figure taken back and typed anew must not overtake its own taking back. */
  #saved: Promise<void> = Promise.resolve();

  constructor(book: DepthBook, drawn: () => void) {
    this.book = book;
    this.#drawn = drawn;
  }

  get typed(): ReadonlyMap<string, Typed> {
    const typed = new Map(this.book.typed);
    for (const [place, one] of this.#fresh) {
      if (one) typed.set(place, one);
      else typed.delete(place);
    }
    return typed;
  }

  get pointsMm(): number[] {
    return [...this.typed.values()].map(mmOf).filter((one) => one !== null);
  }

  /** The point asked for; null when all are there. A set that grew or shrank meanwhile goes on where a figure is missing. */
  get at(): string | null {
    const chosen = this.#chosen;
    return chosen && this.book.order.includes(chosen) ? chosen : nextOpen(this.book.order, this.typed, null);
  }

  get canUndo(): boolean {
    return this.#steps.length > 0;
  }

  go(place: string | null): void {
    this.#chosen = place;
    this.#drawn();
  }

  /** Puts a figure at the point asked for and moves on. */
  put(typed: Typed): void {
    const place = this.at;
    if (place === null) return;
    this.#steps.push({ place, before: this.typed.get(place) ?? null });
    this.#keep(place, typed);
    this.go(nextOpen(this.book.order, this.typed, place));
  }

  /** Takes the last figure back and asks for it again. */
  undo(): void {
    const last = this.#steps.pop();
    if (!last) return;
    this.#keep(last.place, last.before);
    this.go(last.place);
  }

  #keep(place: string, one: Typed | null): void {
    this.#fresh.set(place, one);
    const save = (): Promise<void> => this.book.keep(place, one).catch((error: unknown) => tellFailure(error, () => void save()));
    this.#saved = this.#saved.then(save);
  }
}

export function useDepths(book: DepthBook): Depths {
  const [, setTurn] = useState(0);
  const held = useRef<Depths | null>(null);
  held.current ??= new Depths(book, () => setTurn((turn) => turn + 1));
  held.current.book = book;
  return held.current;
}
