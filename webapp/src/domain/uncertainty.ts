// Figures with their interval: what an instrument's steps and the hand leave open, carried through to what is derived (GUM).

/** A value with the ends of its interval, two standard uncertainties on each side, all in the same unit. */
export interface Figure {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface Instrument {
  readonly resolution_mm?: number | null;
  /** One standard uncertainty of the hand that holds it. */
  readonly repeatability_mm?: number | null;
}

export const COVERAGE = 2;

/** `u` is one standard uncertainty. */
export function figure(value: number, u: number): Figure {
  return { value, low: value - COVERAGE * u, high: value + COVERAGE * u };
}

export function standardU(one: Figure): number {
  return (one.high - one.low) / (2 * COVERAGE);
}

/**
 * One standard uncertainty, in mm, of the mean of so many figures: half a step as a rectangle, and the hand's repeatability.
 *
 * Throws RangeError where the instrument's resolution is not known.
 */
export function instrumentU(instrument: Instrument, readings = 1): number {
  const step = instrument.resolution_mm;
  const hand = instrument.repeatability_mm ?? 0;
  if (!step || step < 0 || hand < 0) throw new RangeError("Say what it was read with, and how fine: without that no interval can be given.");
  return Math.hypot(step / 2 / Math.sqrt(3), hand / Math.sqrt(readings));
}

/** One length read off an instrument, in mm. */
export function readFigure(mm: number, instrument: Instrument): Figure {
  return figure(mm, instrumentU(instrument));
}

/** The mean of lengths read at as many spots, in mm; their own spread is shape and not error. Throws RangeError if there are none. */
export function meanFigure(valuesMm: readonly number[], instrument: Instrument): Figure {
  if (valuesMm.length === 0) throw new RangeError("Type at least one figure.");
  return figure(valuesMm.reduce((sum, one) => sum + one, 0) / valuesMm.length, instrumentU(instrument, valuesMm.length));
}

/** `one` less `other`, taken independently. */
export function difference(one: Figure, other: Figure): Figure {
  return figure(one.value - other.value, Math.hypot(standardU(one), standardU(other)));
}

export type Side = "within" | "below" | "above" | "cannot_tell";

/** Where a figure lies with its whole interval. */
export function sideOf(one: Figure, low: number, high: number): Side {
  if (low <= one.low && one.high <= high) return "within";
  if (one.high < low) return "below";
  return one.low > high ? "above" : "cannot_tell";
}

/** `value` if it is above 0 and at most `most`. Throws RangeError in words for the person: `what` begins the sentence. */
export function positive(value: number, what: string, most: number): number {
  if (!(value > 0 && value <= most)) throw new RangeError(`${what} must be above 0 and at most ${plainNumber(most)}; check the figure.`);
  return value;
}

/** A number with up to six digits, as the server writes it: 3000, 0.18, 1e+06, 1e-05. */
export function plainNumber(value: number): string {
  const digits = Number(value.toPrecision(6));
  const size = Math.abs(digits);
  return size >= 1e6 || (size > 0 && size < 1e-4) ? digits.toExponential().replace(/e([+-])(\d)$/, "e$10$2") : String(digits);
}
