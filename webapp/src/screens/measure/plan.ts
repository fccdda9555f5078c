// What a small bench tool asks for, and how its figures stand as readings of a visit: typed once, used everywhere.
import { type Doubt, type LengthUnit, parseLength, plausible } from "../../domain/lengths.ts";
import type { Catalogue } from "../../domain/catalogue.ts";
import type { Instrument } from "../../domain/uncertainty.ts";
import type { Rec } from "../../store/store.ts";

/** One thing asked for. `measure` names the catalogue's entry that says what is believable; without it any text will do. */
export interface Asked {
  readonly id: string;
  readonly measure?: string;
  readonly label: string;
  readonly hint?: string;
  /** Where it is kept in a visit. */
  readonly reading?: { readonly check: string; readonly reading: string; readonly place?: string };
  readonly optional?: boolean;
}

/** Text by the id of what was asked for; lengths carry their unit once they are kept. */
export type Words = Readonly<Record<string, string>>;

function readingOf({ reading }: Asked, readings: readonly Rec[]): Rec | undefined {
  return reading && readings.find(({ values }) => values["check"] === reading.check && values["reading"] === reading.reading && values["place"] === (reading.place ?? "") && values["typed"]);
}

/** What the readings of a visit already say. */
export function wordsOf(plan: readonly Asked[], readings: readonly Rec[]): Record<string, string> {
  const words: Record<string, string> = {};
  for (const asked of plan) {
    const { id, measure } = asked;
    const found = readingOf(asked, readings);
    if (found) words[id] = measure ? `${found.values["typed"].text} ${found.values["typed"].unit}` : found.values["typed"].text;
  }
  return words;
}

/** What a figure was read with, as long as its text stands. */
export interface ReadWith { readonly text: string; readonly instrument: Instrument }

/** What the readings of a visit were read with, by the id of what was asked for. */
export function instrumentsOf(plan: readonly Asked[], readings: readonly Rec[], { terms }: Pick<Catalogue, "terms">): Record<string, ReadWith> {
  const found: Record<string, ReadWith> = {};
  for (const asked of plan) {
    const one = readingOf(asked, readings);
    const usual = terms.instruments.find(({ id }) => id === one?.values["instrument"]?.kind);
    const { [asked.id]: text } = wordsOf([asked], readings);
    if (one && usual && text !== undefined) found[asked.id] = { text, instrument: { ...usual, resolution_mm: one.values["instrument"].resolution_mm ?? usual.resolution_mm } };
  }
  return found;
}

/** A length in mm; null where nothing is typed. Throws RangeError in words for the person. */
export function mmIn(words: Words, id: string, unit: LengthUnit): number | null {
  const text = words[id]?.trim() ?? "";
  return text === "" ? null : parseLength(text, unit);
}

/** A doubt, and whether the figure is a length at all, so that it may be kept on purpose. */
export type Asking = Doubt & { readonly keep: boolean };

/** What to ask about a typed length at once; null where it may well be, or nothing is typed. */
export function doubtIn(words: Words, asked: Asked, unit: LengthUnit, { measures }: Pick<Catalogue, "measures">): Asking | null {
  const measure = measures.find((one) => one.id === asked.measure);
  if (!measure) return null;
  try {
    const mm = mmIn(words, asked.id, unit);
    const doubt = mm === null ? null : plausible(measure, mm);
    return doubt && { ...doubt, keep: true };
  } catch (error) {
    return { message: (error as Error).message, keep: false };
  }
}

/** Splits what stands in a field into figure and unit, as a reading keeps them. */
export function typedIn(text: string, unit: LengthUnit): { text: string; unit: LengthUnit } {
  const said = /^(.*[0-9¼½¾⅛⅜⅝⅞])\s*(mm|in|inch|inches|"|″|”)$/i.exec(text.trim());
  if (!said) return { text: text.trim(), unit };
  return { text: said[1]!.trim(), unit: said[2]!.toLowerCase() === "mm" ? "mm" : "in" };
}

/** What a reckoning gives, or what is wrong in words; null while too little is typed. */
export function reckon<T>(work: () => T | null): { value: T } | { wrong: string } | null {
  try {
    const value = work();
    return value === null ? null : { value };
  } catch (error) {
    if (error instanceof RangeError) return { wrong: error.message };
    throw error;
  }
}
