// The thread of typing a hundred figures: which point is next, what to ask about a figure, and the way back.
import type { Catalogue } from "../../domain/catalogue.ts";
import { pointDoubt } from "../../domain/holder_side.ts";
import { parsePlace } from "../../domain/ids.ts";
import { type Doubt, type LengthUnit, parseLength } from "../../domain/lengths.ts";
import { DEPTH_CHECK, type Typed } from "./depth_book.ts";

/** The first point after `from` that has no figure yet; round again to one left out before; null when all are there. */
export function nextOpen(order: readonly string[], typed: ReadonlyMap<string, unknown>, from: string | null): string | null {
  const start = from === null ? 0 : order.indexOf(from) + 1;
  return [...order.slice(start), ...order.slice(0, start)].find((place) => !typed.has(place)) ?? null;
}

export interface Placed { readonly holder: string; readonly side: string; readonly point: string }

export function placed(place: string): Placed {
  const { holder = "", side = "", point = "" } = parsePlace(place);
  return { holder, side, point };
}

/** "Holder 3, side A, top left". */
export function pointWords(place: string): string {
  const { holder, side, point } = placed(place);
  return `Holder ${holder}, side ${side.toUpperCase()}, ${point.replaceAll("_", " ")}`;
}

export type Weighed =
  | { readonly ask: null; readonly mm: number }
  /** `wrong`: no figure at all; nothing can be kept. */
  | { readonly ask: Doubt; readonly wrong: boolean };

/** What was typed in `unit`, against what is believable and against the points of the set already taken. */
export function weigh(text: string, unit: LengthUnit, besideMm: readonly number[], catalogue: Catalogue): Weighed {
  const reading = catalogue.checks.find((one) => one.id === DEPTH_CHECK)!.readings[0]!;
  try {
    const mm = parseLength(text, unit);
    const ask = pointDoubt(mm, besideMm, reading);
    return ask ? { ask, wrong: false } : { ask: null, mm };
  } catch (error) {
    return { ask: { message: (error as Error).message }, wrong: true };
  }
}

/** What a figure says in mm; a figure from elsewhere that is no length is passed over. */
export function mmOf({ text, unit }: Typed): number | null {
  try {
    return parseLength(text, unit);
  } catch {
    return null;
  }
}
