// Lengths as read off a tool: typed in millimetres or inches, with comma, point or fraction; questioned when they cannot be.

import { fixed } from "./rounding.ts";

export type LengthUnit = "mm" | "in";

export interface Doubt {
  readonly message: string;
  /** The unit in which the same figure would be believable. */
  readonly likely_unit?: LengthUnit;
}

/** Millimetres in an inch, exactly (international inch, 1959). */
export const MM_PER_INCH = 25.4;

const LONGEST_MM = 100_000;
const NOT_A_LENGTH = "Type a length, as in 5.0 or 1 1/4.";
const NEGATIVE = "A length has no minus before it: type it as in 5.0.";
const SIGNS: Readonly<Record<string, string>> = { "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };
const SUFFIXES: Readonly<Record<string, LengthUnit>> = { mm: "mm", in: "in", inch: "in", inches: "in", '"': "in", "″": "in", "”": "in" };
// Either a decimal number, or a fraction that a whole number may stand before.
const TYPED = /^(?:(\d{1,6}(?:[.,]\d{1,6})?)|(?:(\d{1,6})(?:\s+|-))?(\d{1,4})\s*\/\s*(\d{1,4}))\s*(mm|in|inch|inches|"|″|”)?$/;

/**
 * What was typed, in mm; a unit typed behind the figure counts before `unit`.
 *
 * Throws RangeError with a message for the person.
 */
export function parseLength(text: string, unit: LengthUnit): number {
  const plain = text.trim().toLowerCase().replace(/[¼½¾⅛⅜⅝⅞]/g, (sign) => ` ${SIGNS[sign]!}`).trim();
  const typed = TYPED.exec(plain);
  if (!typed) throw new RangeError(/^[-−–]\s*[0-9]/.test(plain) ? NEGATIVE : NOT_A_LENGTH);
  const [, decimal, whole, top, bottom, suffix] = typed;
  if (bottom !== undefined && Number(bottom) === 0) throw new RangeError(NOT_A_LENGTH);
  const figure = decimal !== undefined ? Number(decimal.replace(",", ".")) : Number(whole ?? 0) + Number(top) / Number(bottom);
  const mm = (suffix ? SUFFIXES[suffix]! : unit) === "in" ? figure * MM_PER_INCH : figure;
  if (mm > LONGEST_MM) throw new RangeError("That is longer than any camera; check the figure.");
  return mm;
}

/** Null where a reading of this kind may well be `mm`; else what to ask the person, and the unit they may have meant. */
export function plausible(reading: { readonly plausible?: { readonly low: number; readonly high: number } | null }, mm: number): Doubt | null {
  const span = reading.plausible;
  if (!span || within(mm, span)) return null;
  const usual = `usual is ${span.low} to ${span.high} mm`;
  if (within(mm * MM_PER_INCH, span)) return { message: `${showLength(mm, "mm")} is very small here (${usual}). Was it in inches?`, likely_unit: "in" };
  if (within(mm / MM_PER_INCH, span)) return { message: `${showLength(mm, "in")} is very large here (${usual}). Was it in millimetres?`, likely_unit: "mm" };
  return { message: `${showLength(mm, "mm")} is unusual here (${usual}). Read it once more.` };
}

/** "5.00 mm", "127.0 mm", "0.197 in": as many decimals as a good tool shows at that size. */
export function showLength(mm: number, unit: LengthUnit): string {
  const size = Math.abs(mm);
  const digits = size < 20 ? 2 : size < 200 ? 1 : 0;
  return unit === "in" ? `${fixed(mm / MM_PER_INCH, digits + 1)} in` : `${fixed(mm, digits)} mm`;
}

function within(mm: number, { low, high }: { readonly low: number; readonly high: number }): boolean {
  return mm >= low && mm <= high;
}
