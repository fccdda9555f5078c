// Whether prices rise or fall: the middle of all slopes between two sales, on the logarithm of the price, with its interval.

import { median, Z } from "./intervals.ts";
import { daysBetween, type ExchangeRate, inCurrency, type PriceNote, salesOf } from "./price_baseline.ts";

const LEAST_SALES = 4;
const DAYS_A_YEAR = 365.25;
const FIRST_DAY = "0001-01-01";

export type TrendWord = "rising" | "falling" | "cannot_tell" | "too_few";
interface PricePoint { readonly day: string; readonly minor: number }

export interface Trend {
  readonly count: number;
  readonly word: TrendWord;
  /** The share by which prices rise in a year, 0.05 for 5 %, with a 95 % interval. */
  readonly per_year: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly points: readonly PricePoint[];
  readonly line: readonly PricePoint[] | null;
}

/**
 * Of what was SOLD; "rising" or "falling" where the interval leaves nought out, else "cannot_tell"; "too_few" below four sales or
 * all on one day. Source of the method: Theil and Sen; the interval is the one `scipy.stats.theilslopes` gives.
 */
export function trend(notes: readonly PriceNote[], currency: string, rates: readonly ExchangeRate[] = []): Trend {
  const points = salesOf(notes)
    .flatMap((note) => {
      const minor = inCurrency(note, currency, rates);
      return minor !== null && minor > 0 ? [{ day: note.day, minor }] : [];
    })
    .sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : a.minor - b.minor));
  const none = { count: points.length, word: "too_few", per_year: null, low: null, high: null, points, line: null } as const;
  if (points.length < LEAST_SALES || points[0]!.day === points.at(-1)!.day) return none;
  // Day 1 of the calendar is number 1, so that the line is the same wherever it is computed.
  const years = points.map(({ day }) => (daysBetween(FIRST_DAY, day) + 1) / DAYS_A_YEAR);
  const logs = points.map(({ minor }) => Math.log(minor));
  const { slope, low, high } = slopes(years, logs);
  const intercept = median(logs) - slope * median(years);
  const line = [0, points.length - 1].map((at) => ({ day: points[at]!.day, minor: Math.exp(intercept + slope * years[at]!) }));
  return { ...none, word: low > 0 ? "rising" : high < 0 ? "falling" : "cannot_tell", per_year: Math.expm1(slope), low: Math.expm1(low), high: Math.expm1(high), line };
}

/** The median slope and the ranks about it that leave 2.5 % on either side, ties in both directions taken into account. */
function slopes(x: readonly number[], y: readonly number[]): { slope: number; low: number; high: number } {
  const all = x.flatMap((from, i) => x.flatMap((to, j) => (to > from ? [(y[j]! - y[i]!) / (to - from)] : []))).sort((a, b) => a - b);
  const n = y.length;
  const ties = (values: readonly number[]) => [...new Set(values)].reduce((sum, value) => {
    const k = values.filter((one) => one === value).length;
    return sum + k * (k - 1) * (2 * k + 5);
  }, 0);
  const sigma = Math.sqrt(Math.max(0, (n * (n - 1) * (2 * n + 5) - ties(x) - ties(y)) / 18));
  const upper = Math.min(roundHalfEven((all.length + Z * sigma) / 2), all.length - 1);
  const lower = Math.max(roundHalfEven((all.length - Z * sigma) / 2) - 1, 0);
  return { slope: median(all), low: all[lower]!, high: all[upper]! };
}

/** As the reference rounds ranks: a half goes to the even one. */
function roundHalfEven(x: number): number {
  const down = Math.floor(x);
  if (x - down !== 0.5) return Math.round(x);
  return down % 2 === 0 ? down : down + 1;
}
