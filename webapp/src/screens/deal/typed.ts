// Reads what is typed for a deal: spans, percentages, weeks; refuses in words for the person.
import { decimals, parseMoney } from "../../domain/money.ts";

export interface Span { low_minor: number; likely_minor: number; high_minor: number }

/** Major units with a point, as an amount is typed again; "" for none. */
export function amountText(minor: number | null | undefined, currency: string): string {
  if (minor === null || minor === undefined) return "";
  const digits = decimals(currency);
  return (minor / 10 ** digits).toFixed(minor % 10 ** digits === 0 ? 0 : digits);
}

/** One figure alone stands for all three. Throws RangeError. */
export function readSpan(low: string, likely: string, high: string, currency: string): Span {
  if (likely.trim() === "") throw new RangeError("Type the likely figure; low and high may stay empty.");
  const [a, b, c] = [low.trim() || likely, likely, high.trim() || likely].map((text) => parseMoney(text, currency).minor);
  if (!(a! <= b! && b! <= c!)) throw new RangeError("Low must not be above likely, nor likely above high: check the three figures.");
  return { low_minor: a!, likely_minor: b!, high_minor: c! };
}

/** A percentage from 0 to `most` as a share of one. Throws RangeError. */
export function readPercent(typed: string, most: number): number {
  const text = typed.replace("%", "").replace(",", ".").trim();
  const value = /^\d{1,3}(?:\.\d{1,3})?$/.test(text) ? Number(text) : Number.NaN;
  if (!(value <= most)) throw new RangeError(`Type a percentage from 0 to ${most}, as in 20 or 7.5.`);
  return Math.round(value * 1e3) / 1e5;
}

/** Weeks with at most one decimal; NaN for anything else. */
export function readWeeks(text: string): number {
  const typed = text.trim().replace(",", ".");
  return /^\d{1,3}(?:\.\d)?$/.test(typed) ? Number(typed) : Number.NaN;
}
