// What prices amount to, in plain words: the usual price with its doubt, the trend, and what was left out.
import { type Money, showMoney } from "../../domain/money.ts";
import { type Baseline, LEAST_SALES } from "../../domain/price_baseline.ts";
import type { Trend } from "../../domain/price_trend.ts";
import { fixed, halfAway } from "../../domain/rounding.ts";
import { dayWords } from "../visit/words.ts";
import type { KeptNote } from "./notes.ts";

export const STATES = [{ value: "working", label: "Working" }, { value: "faulty", label: "Faulty" }, { value: "unknown", label: "Not known" }] as const;

export const sales = (count: number): string => (count === 1 ? "1 sale" : `${count} sales`);
export const priceCount = (count: number): string => (count === 1 ? "1 price" : `${count} prices`);

const span = (low: number, high: number, currency: string): string => {
  const [from, to] = [showMoney({ minor: low, currency }), showMoney({ minor: high, currency })];
  return from === to ? from : `${from} to ${to}`;
};

/** The one line about a group: what such things usually sold for, or why that cannot be said. */
export function baselineLine(base: Baseline, currency: string): string {
  if (base.count === 0) return "No sale noted yet; asking prices count for nothing";
  if (base.too_few) return `Too few to say: ${sales(base.count)} (${span(base.low_minor!, base.high_minor!, currency)}), ${LEAST_SALES} are needed`;
  return `Usually ${showMoney({ minor: base.median_minor!, currency })}, of ${sales(base.count)}`;
}

/** How far the line may be trusted: spread, interval with its coverage, from when to when. */
export function baselineDoubt(base: Baseline, currency: string): string[] {
  if (base.too_few) return [];
  const percent = Math.floor(base.coverage! * 100);
  return [
    `The middle half went for ${span(base.quarter_low_minor!, base.quarter_high_minor!, currency)}.`,
    `Were these sales drawn by chance from all of their kind, the middle of all would lie between ${showMoney({ minor: base.low_minor!, currency })} and ${showMoney({ minor: base.high_minor!, currency })} ${percent} times in 100.`,
    base.first_day === base.last_day ? `All on ${dayWords(base.first_day!)}.` : `From ${dayWords(base.first_day!)} to ${dayWords(base.last_day!)}.`,
  ];
}

/** What currencies did to the count. */
export function currencyWords(base: Baseline, currency: string): { converted: string | null; left_out: string | null } {
  return {
    converted: base.converted > 0 ? `${sales(base.converted)} turned into ${currency} by your rates.` : null,
    left_out: base.left_out > 0 ? `${sales(base.left_out)} in another currency left out: type a rate to count ${base.left_out === 1 ? "it" : "them"}.` : null,
  };
}

const percent = (share: number): string => {
  const whole = halfAway(share * 100, 0);
  return `${whole > 0 ? "+" : whole < 0 ? "−" : ""}${fixed(Math.abs(share * 100), 0)} %`;
};

export function trendLine({ word, per_year: perYear, low, high }: Trend): string {
  if (word === "too_few") return "Trend: too few sales. Four are needed, not all on one day.";
  const interval = `95 % interval ${percent(low!)} to ${percent(high!)}`;
  if (word === "cannot_tell") return `Trend: cannot tell. A year changes the price by ${percent(low!)} to ${percent(high!)} (95 % interval).`;
  return `Trend: ${word}, about ${percent(perYear!)} a year (${interval}).`;
}

/** "Sold working, 3 May 2026". */
export function noteUnder({ day, sold, state }: KeptNote): string {
  const how = `${sold ? "Sold" : "Only asked"}${state === "working" || state === "faulty" ? `, ${state}` : ""}`;
  return [how, dayWords(day)].filter(Boolean).join(", ");
}

export const moneyWords = (price: Money | undefined): string => (price ? showMoney(price) : "no price");

/** The half-lives a person can choose among. */
export const HALF_LIVES: readonly { value: string; label: string }[] = [
  { value: "183", label: "After half a year a sale weighs half" },
  { value: "365", label: "After a year a sale weighs half" },
  { value: "730", label: "After two years a sale weighs half" },
  { value: "1826", label: "After five years a sale weighs half" },
  { value: "", label: "All sales weigh alike, however old" },
];

/** The same within a sentence. */
export function halfLifeWords(days: number | null): string {
  const known = HALF_LIVES.find(({ value }) => value === String(days ?? ""));
  const words = known?.label ?? `After ${days} days a sale weighs half`;
  return `${words}.`;
}
