// Marked speeds and what they stand for: a mark's text, its exact time, errors in stops and the bands they fall in.

import type { TimingConstants } from "./shutter_signal.ts";

/** An entry of the catalogue's `series`. */
export interface Series {
  readonly id: string;
  readonly marks: readonly { readonly text: string; readonly nominal: { readonly num: number; readonly den: number } }[];
}

export type Bands = Pick<TimingConstants["bands"], "fine_stops" | "usable_stops" | "erratic_stops" | "judged_from_s">;
export type Band = "fine" | "usable" | "needs_service" | "indication_only" | "erratic" | "not_judged";

// A whole number of seconds, a fraction, or a decimal with point or comma; an s or a double stroke may follow.
const MARK = /^(?:([0-9]{1,4})\s*\/\s*([0-9]{1,5})|([0-9]{1,4}(?:[.,][0-9]{1,6})?))\s*(?:s|sec|″|")?$/;
const LONGEST_S = 3600;
// Ten thousandth of a stop: a limit of 1/3 stop includes a time that a person computed as +26 %.
const EDGE_STOPS = 1e-4;

/** The time a mark says, in seconds ("1/50" is 0.02, "2s" is 2); null for B, T and what is no time. */
export function parseMark(text: string): number | null {
  const match = MARK.exec(text.trim().toLowerCase());
  if (!match) return null;
  const [, top, bottom, plain] = match;
  const seconds = plain ? Number(plain.replace(",", ".")) : Number(top) / Number(bottom);
  return seconds > 0 && seconds <= LONGEST_S ? seconds : null;
}

/**
 * The exact time a mark stands for in its series: 1/125 is 1/128 s in the current one.
 *
 * A mark that the series does not have stands for itself; it is never moved to another mark.
 */
export function nominalSeconds(text: string, series: Series | null): number | null {
  const said = parseMark(text);
  const mark = said === null ? undefined : series?.marks.find((one) => parseMark(one.text) === said);
  return mark ? mark.nominal.num / mark.nominal.den : said;
}

/** How much longer than nominal, in stops; shorter is negative. */
export function errorStops(measuredS: number, nominalS: number): number {
  return Math.log2(measuredS / nominalS);
}

/** Whether sound can judge this marked speed: 1/125 and slower; a faster mark gets an indication only. */
export function isJudged(markedS: number, bands: Bands): boolean {
  return markedS >= bands.judged_from_s * (1 - 1e-9);
}

/** "fine", "usable" or "needs_service" by the size of the error in stops; "indication_only" where sound cannot judge. */
export function band(stops: number, markedS: number, bands: Bands): Band {
  if (!isJudged(markedS, bands)) return "indication_only";
  if (Math.abs(stops) <= bands.fine_stops + EDGE_STOPS) return "fine";
  return Math.abs(stops) <= bands.usable_stops + EDGE_STOPS ? "usable" : "needs_service";
}
