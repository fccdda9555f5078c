// Writes what a person found at one check: answers, claims, readings and the words beside them.
import { moment } from "../../device/moment.ts";
import { answerId, readingId } from "../../domain/ids.ts";
import type { Store } from "../../store/store.ts";
import type { Outcome } from "../visit/words.ts";
import type { ClaimWords } from "./claim_sheet.tsx";
import type { SpeedMark } from "./up_to_sheet.tsx";

export interface Result {
  outcome: Outcome;
  faults?: string[];
  good_up_to?: SpeedMark | null;
  reason?: string | null;
  reason_text?: string;
}

/** The one spot an answer belongs to. */
export interface Spot { visit: string; check: string; place: string }

/** Saves the outcome at a spot; null takes it back to "still to look at". */
export function saveResult(store: Store, { visit, check, place }: Spot, result: Result | null): Promise<void> {
  const value = result && { ...result, at: moment() };
  return store.set("answer", answerId(visit, check, place), { visit, check, place, result: value });
}

/** `remark` goes into the report, `note` never leaves the person's own devices and server. */
export function saveWords(store: Store, { visit, check, place }: Spot, words: { remark?: string; note?: string }): Promise<void> {
  return store.set("answer", answerId(visit, check, place), { visit, check, place, ...words });
}

export function saveClaim(store: Store, { visit, check, place }: Spot, piece: string, outcome: Outcome, { by, evidence, words, faults }: ClaimWords, day: string): Promise<string> {
  return store.create("claim", { piece, visit, check, place, asserted: { outcome, faults }, words, day, by, evidence });
}

export interface TypedReading { text: string; unit: string; instrument: { kind: string; resolution_mm: number | null } }

/** Keeps what was typed, in the unit it was typed in; millimetres are derived from it every time. */
export function saveReading(store: Store, { visit, check, place }: Spot, reading: string, { text, unit, instrument }: TypedReading): Promise<void> {
  return store.set("reading", readingId(visit, check, place, reading), {
    visit, check, place, reading, typed: { text, unit }, instrument, at: moment(),
  });
}
