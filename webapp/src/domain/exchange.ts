// A rate of exchange as a person types it, "1 USD is 0.92 EUR", and as prices are turned by it: smallest unit for smallest unit.

import { decimals } from "./money.ts";

const MOST_RATE = 1e9;

/**
 * Smallest units of `to` that one of `from` is, from how much of `to` one whole `from` is: "0.92", "1,5" or "150".
 *
 * Throws RangeError with a message for the person.
 */
export function parseRate(text: string, from: string, to: string): number {
  if (from === to) throw new RangeError("Pick two currencies that differ.");
  const typed = text.trim().replaceAll(",", ".");
  if (!/^[0-9]{1,9}(?:\.[0-9]{1,12})?$/.test(typed) || Number(typed) <= 0) throw new RangeError(`Type how much 1 ${from} is in ${to}, as in 0.92.`);
  const factor = Number(typed) * 10 ** (decimals(to) - decimals(from));
  if (factor > MOST_RATE) throw new RangeError("That is more than can be kept; check the figure.");
  return factor;
}

/** How much of `to` one whole `from` is. */
export function majorRate(minorPerMinor: number, from: string, to: string): number {
  return minorPerMinor * 10 ** (decimals(from) - decimals(to));
}
