// The plot of what things of one group went for: a sign a note over time, the middle with its interval, and the trend.

import { roundTicks } from "./axis.ts";
import { showMoney } from "./money.ts";
import { type Baseline, daysBetween, type ExchangeRate, inCurrency, type PriceNote } from "./price_baseline.ts";
import type { Trend } from "./price_trend.ts";
import { halfAway } from "./rounding.ts";

export type PriceShape = "working" | "faulty" | "unknown" | "asked";

export interface PriceChart {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly points: readonly { readonly x: number; readonly y: number; readonly shape: PriceShape }[];
  readonly amounts: readonly { readonly y: number; readonly label: string }[];
  readonly days: readonly { readonly x: number; readonly label: string }[];
  readonly middle: number | null;
  readonly band: { readonly y: number; readonly height: number } | null;
  readonly line: readonly (readonly [number, number])[] | null;
}

const SIZE = { width: 360, height: 240, left: 58, right: 350, top: 24, bottom: 208 };
const MOST_STEPS = 5;
const MONTH_STEPS = [1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200, 2400, 4800];
// The trend is straight on the logarithm of the price, so it is drawn as a bent line through so many points.
const LINE_POINTS = 13;

/**
 * Geometry in units of the drawing, from price notes and what `baseline` and `trend` say of them.
 *
 * `shape` of a point tells what was not sold ("asked", counts for nothing) and the states apart, and not its colour. Notes in a
 * currency without a rate have no point. `middle` and `band` (of the middle) only where there are sales enough. Null where there
 * is no point at all.
 */
export function priceChart(notes: readonly PriceNote[], currency: string, base: Baseline, trend: Trend, rates: readonly ExchangeRate[] = []): PriceChart | null {
  const priced = notes
    .flatMap(({ price, day, sold, state, deleted }) => {
      const amount = price && day && !deleted ? inCurrency({ price, day }, currency, rates) : null;
      return amount === null ? [] : [{ day: day!, amount, shape: sold ? state || "unknown" : "asked" as const }];
    })
    .sort((a, b) => (a.day !== b.day ? (a.day < b.day ? -1 : 1) : a.amount - b.amount || (a.shape < b.shape ? -1 : 1)));
  const [first, last] = [priced[0], priced.at(-1)];
  if (!first || !last) return null;
  const ends = trend.line ?? [];
  const amounts = roundTicks(Math.max(...priced.map(({ amount }) => amount), ...ends.map(({ minor }) => minor), base.high_minor ?? 0), MOST_STEPS);
  const whole = daysBetween(first.day, last.day);
  const { left, right, top, bottom } = SIZE;
  const across = (day: number) => halfAway(left + 10 + (right - left - 20) * (whole > 0 ? day / whole : 0.5), 1);
  const x = (day: string) => across(daysBetween(first.day, day));
  const y = (minor: number) => halfAway(bottom - ((bottom - top) * minor) / amounts.at(-1)!, 1);
  const { median_minor: middle, low_minor: low, high_minor: high, too_few: tooFew } = base;
  const bent = bentLine(ends, first.day);
  return {
    ...SIZE,
    points: priced.map(({ day, amount, shape }) => ({ x: x(day), y: y(amount), shape })),
    amounts: amounts.map((minor) => ({ y: y(minor), label: showMoney({ minor, currency }).split(`\u00a0${currency}`)[0]! })),
    days: dayTicks(first.day, last.day).map(({ day, label }) => ({ x: x(day), label })),
    middle: tooFew ? null : y(middle!),
    band: tooFew ? null : { y: y(high!), height: halfAway(y(low!) - y(high!), 1) },
    line: bent && bent.map(({ day, minor }) => [across(day), y(minor)] as const),
  };
}

/** Points of the trend, their days counted from `origin`. */
function bentLine([from, to]: NonNullable<Trend["line"]>, origin: string): { day: number; minor: number }[] | null {
  if (!from || !to) return null;
  const [first, last] = [daysBetween(origin, from.day), daysBetween(origin, to.day)];
  return Array.from({ length: LINE_POINTS }, (_, at) => {
    const share = at / (LINE_POINTS - 1);
    return { day: first + (last - first) * share, minor: from.minor * (to.minor / from.minor) ** share };
  });
}

/** First days of months or years between two days; the first day itself where there is none between. */
function dayTicks(first: string, last: string): { day: string; label: string }[] {
  const [begin, end] = [first, last].map((day) => Number(day.slice(0, 4)) * 12 + Number(day.slice(5, 7)) - 1) as [number, number];
  const step = MONTH_STEPS.find((one) => Math.floor(end / one) - Math.floor(begin / one) <= MOST_STEPS - 1)!;
  const months = Array.from({ length: end - begin + 1 }, (_, at) => begin + at).filter((month) => month % step === 0 && `${monthText(month)}-01` >= first);
  if (months.length === 0) return [{ day: first, label: first }];
  return months.map((month) => ({ day: `${monthText(month)}-01`, label: step >= 12 ? monthText(month).slice(0, 4) : monthText(month) }));
}

function monthText(count: number): string {
  return `${String(Math.floor(count / 12)).padStart(4, "0")}-${String((count % 12) + 1).padStart(2, "0")}`;
}
