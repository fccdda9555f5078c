// What a deal is reckoned by: what was typed for it, else the person's habits, else what the group of things usually sells for.

import type { CostSpan } from "./catalogue.ts";
import type { DealTerms } from "./deal_sheet.ts";
import type { Money } from "./money.ts";
import { type Baseline, type ExchangeRate, inCurrency } from "./price_baseline.ts";
import { halfAway } from "./rounding.ts";

type Spans = NonNullable<DealTerms["value"]>;

/** The terms of a deal record; what is missing is as usual. */
export interface SavedTerms extends Partial<Omit<DealTerms, "asking_minor" | "currency" | "week_minor">> {
  readonly currency: string;
  /** Kind of thing whose price notes say the value. */
  readonly group?: string;
}

/** The habits of the money_habits record; shares are parts of one, amounts in the smallest unit of `currency`. */
export interface MoneyHabits {
  readonly currency: string;
  readonly week_minor?: number;
  readonly premium?: number;
  readonly tax?: number;
  readonly fees?: number;
  readonly margin_minor?: number;
  /** Days after which a sale weighs half; null weighs all alike. */
  readonly half_life_days?: number | null;
  readonly rest_days?: number;
}

export interface ReadyTerms {
  readonly deal: DealTerms;
  readonly value_from: "own" | "group" | null;
  readonly missing: readonly ("too_few" | "asking" | "terms" | "habits")[];
}

type Known = Pick<Baseline, "count" | "too_few" | "median_minor" | "low_minor" | "high_minor" | "quarter_low_minor" | "quarter_high_minor">;

/**
 * `known` is the baseline of the chosen group's working notes, in `currency`. The value of a group spans its median's interval and
 * the middle half of its sales, whichever reaches farther. Amounts in another currency are converted by the person's rates as
 * of `day`. `missing` says what had to be left out: "too_few" sales for a value, and "asking", "terms" or "habits" where no
 * rate was typed.
 */
export function dealTerms(saved: SavedTerms | null, habits: MoneyHabits | null, asking: Money | null, known: Known | null, currency: string, day: string, rates: readonly ExchangeRate[] = []): ReadyTerms {
  const missing: ReadyTerms["missing"][number][] = [];
  const amount = (minor: number, from: string, whose: "asking" | "terms" | "habits"): number | null => {
    const found = inCurrency({ price: { minor, currency: from }, day }, currency, rates);
    if (found === null && !missing.includes(whose)) missing.push(whose);
    return found === null ? null : halfAway(found, 0);
  };
  const sum = (own: number | undefined, usual: number | undefined): number => {
    if (own !== undefined && own !== null) return amount(own, saved!.currency, "terms") ?? 0;
    return usual ? (amount(usual, habits!.currency, "habits") ?? 0) : 0;
  };
  let value: DealTerms["value"] = null;
  let from: ReadyTerms["value_from"] = null;
  if (saved?.value) {
    const [low, likely, high] = (["low_minor", "likely_minor", "high_minor"] as const).map((name) => amount(saved.value![name], saved.currency, "terms"));
    if (low !== null && likely !== null && high !== null) [value, from] = [{ low_minor: low!, likely_minor: likely!, high_minor: high! }, "own"];
  } else if (known && known.count > 0) {
    if (known.too_few) missing.push("too_few");
    else [value, from] = [spanOf(known), "group"];
  }
  const deal: DealTerms = {
    currency,
    value,
    asking_minor: asking ? amount(asking.minor, asking.currency, "asking") : null,
    resale: saved?.resale ?? false,
    week_minor: sum(undefined, habits?.week_minor),
    premium: saved?.premium ?? habits?.premium ?? 0,
    tax: saved?.tax ?? habits?.tax ?? 0,
    fees: saved?.fees ?? habits?.fees ?? 0,
    freight_minor: sum(saved?.freight_minor, undefined),
    travel_minor: sum(saved?.travel_minor, undefined),
    margin_minor: sum(saved?.margin_minor, habits?.margin_minor),
  };
  return { deal, value_from: from, missing };
}

/** Remedies or remedy costs with their cost in `currency` where the person typed a rate; the others as they are. */
export function pricedIn<T extends { readonly cost?: CostSpan }>(rows: readonly T[], currency: string, day: string, rates: readonly ExchangeRate[]): T[] {
  return rows.map((row) => {
    const { cost } = row;
    if (!cost) return row;
    const [low, likely, high] = [cost.low_minor, cost.likely_minor, cost.high_minor].map((minor) => inCurrency({ price: { minor, currency: cost.currency }, day }, currency, rates));
    if (low === null || likely === null || high === null) return row;
    return { ...row, cost: { currency, low_minor: halfAway(low!, 0), likely_minor: halfAway(likely!, 0), high_minor: halfAway(high!, 0) } };
  });
}

function spanOf(known: Known): Spans {
  return {
    low_minor: Math.min(known.low_minor!, known.quarter_low_minor!),
    likely_minor: known.median_minor!,
    high_minor: Math.max(known.high_minor!, known.quarter_high_minor!),
  };
}
