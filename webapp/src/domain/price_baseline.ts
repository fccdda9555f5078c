// What a thing usually sells for: a weighted middle of the person's own price notes, where newer sales weigh more.

import { medianInterval, weightedQuantile } from "./intervals.ts";
import type { Money } from "./money.ts";
import { halfAway } from "./rounding.ts";

export const LEAST_SALES = 3;
export const HALF_LIFE_DAYS = 730;
const DAY_MS = 86_400_000;

/** A price_note record. */
export interface PriceNote {
  readonly id?: string;
  readonly what?: string;
  readonly group?: string;
  /** yyyy-mm-dd */
  readonly day?: string;
  readonly price?: Money;
  readonly sold?: boolean;
  readonly state?: "working" | "faulty" | "unknown";
  readonly venue_kind?: string;
  readonly deleted?: boolean;
}

/** An exchange_rate record, typed by the person: how many smallest units of `to` one of `from` is. */
export interface ExchangeRate {
  readonly from?: string;
  readonly to?: string;
  readonly minor_per_minor?: number;
  readonly day?: string;
  readonly deleted?: boolean;
}

export interface Baseline {
  readonly count: number;
  readonly median_minor: number | null;
  readonly low_minor: number | null;
  readonly high_minor: number | null;
  readonly coverage: number | null;
  readonly quarter_low_minor: number | null;
  readonly quarter_high_minor: number | null;
  readonly too_few: boolean;
  readonly first_day: string | null;
  readonly last_day: string | null;
  readonly converted: number;
  readonly left_out: number;
}

type Sale = PriceNote & { readonly price: Money; readonly day: string };

/**
 * Only what was SOLD counts. Low to high is a distribution-free interval of the median over the notes, their weights left
 * aside; the quarters are weighted. Amounts are null without a sale; under three it is too few to trust. `left_out` counts
 * notes in a currency for which the person typed no rate. A half-life of null weighs all alike.
 */
export function baseline(notes: readonly PriceNote[], currency: string, today: string, halfLifeDays: number | null = HALF_LIFE_DAYS, rates: readonly ExchangeRate[] = []): Baseline {
  const sold = salesOf(notes);
  const priced = sold.flatMap((note) => {
    const amount = inCurrency(note, currency, rates);
    return amount === null ? [] : [{ note, amount }];
  });
  const head = {
    count: priced.length,
    too_few: priced.length < LEAST_SALES,
    converted: priced.filter(({ note }) => note.price.currency !== currency).length,
    left_out: sold.length - priced.length,
  };
  if (priced.length === 0) {
    return { ...head, median_minor: null, low_minor: null, high_minor: null, coverage: null, quarter_low_minor: null, quarter_high_minor: null, first_day: null, last_day: null };
  }
  const amounts = priced.map(({ amount }) => amount);
  const weights = priced.map(({ note }) => weight(note.day, today, halfLifeDays));
  const span = medianInterval(amounts);
  const days = priced.map(({ note }) => note.day).sort();
  const at = (share: number) => halfAway(weightedQuantile(amounts, weights, share), 0);
  return {
    ...head,
    median_minor: at(0.5),
    low_minor: halfAway(span.low, 0),
    high_minor: halfAway(span.high, 0),
    coverage: span.coverage,
    quarter_low_minor: at(0.25),
    quarter_high_minor: at(0.75),
    first_day: days[0]!,
    last_day: days.at(-1)!,
  };
}

/** The baseline of working, faulty and unknown things apart. */
export function byState(notes: readonly PriceNote[], currency: string, today: string, halfLifeDays: number | null = HALF_LIFE_DAYS, rates: readonly ExchangeRate[] = []) {
  const of = (state: string) => baseline(notes.filter((note) => (note.state || "unknown") === state), currency, today, halfLifeDays, rates);
  return { working: of("working"), faulty: of("faulty"), unknown: of("unknown") };
}

/** The kinds of venue that have sales, most sales first. */
export function byVenue(notes: readonly PriceNote[], currency: string, today: string, halfLifeDays: number | null = HALF_LIFE_DAYS, rates: readonly ExchangeRate[] = []) {
  return [...new Set(notes.map((note) => note.venue_kind || ""))]
    .map((kind) => ({ venue_kind: kind, baseline: baseline(notes.filter((note) => (note.venue_kind || "") === kind), currency, today, halfLifeDays, rates) }))
    .filter((one) => one.baseline.count > 0)
    .sort((a, b) => b.baseline.count - a.baseline.count || (a.venue_kind < b.venue_kind ? -1 : 1));
}

/** 1 for today, a half after one half-life. A day yet to come weighs as today. */
export function weight(day: string, today: string, halfLifeDays: number | null): number {
  if (halfLifeDays === null) return 1;
  return 0.5 ** (Math.max(daysBetween(day, today), 0) / halfLifeDays);
}

/**
 * The note's amount in the smallest unit of `currency`, by the last rate typed up to the note's day, else the first after it;
 * null without a rate either way.
 */
export function inCurrency({ price, day }: Pick<Sale, "price" | "day">, currency: string, rates: readonly ExchangeRate[]): number | null {
  if (price.currency === currency) return price.minor;
  const usable = rates
    .flatMap((rate) => {
      if (rate.deleted || !rate.day || !rate.minor_per_minor) return [];
      if (rate.from === price.currency && rate.to === currency) return [{ day: rate.day, factor: rate.minor_per_minor }];
      return rate.from === currency && rate.to === price.currency ? [{ day: rate.day, factor: 1 / rate.minor_per_minor }] : [];
    })
    .sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : a.factor - b.factor));
  const chosen = usable.findLast((rate) => rate.day <= day) ?? usable[0];
  return chosen ? price.minor * chosen.factor : null;
}

/** The notes that say what something sold for, and when. */
export function salesOf(notes: readonly PriceNote[]): Sale[] {
  return notes.filter((note): note is Sale => note.sold === true && note.price !== undefined && Boolean(note.day) && !note.deleted);
}

/** Whole days from one local date to another. */
export function daysBetween(day: string, later: string): number {
  return Math.round((Date.parse(`${later}T00:00:00Z`) - Date.parse(`${day}T00:00:00Z`)) / DAY_MS);
}
