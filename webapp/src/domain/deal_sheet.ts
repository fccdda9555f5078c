// What a piece may cost at most: its value less what seen faults call for, a reserve for the unseen, the wait and all that comes on top.

import type { Catalogue, CostSpan } from "./catalogue.ts";
import { type Answer, applicable, type Piece } from "./checks.ts";
import { type Distribution, distribution, meanOf, quantile, QUANTILES, type UncertainAmount, varianceOf } from "./cost_total.ts";
import { calls, chances, NO_CURE, type UnseenLook } from "./deal_reserve.ts";
import { bundle, type CalledFor, type OwnCost } from "./remedies.ts";
import { halfAway } from "./rounding.ts";
import { verdict } from "./verdict.ts";

const OPENING = 0.25;

/** Shares are of a price; amounts are in the smallest unit of the currency. */
export interface DealTerms {
  readonly currency: string;
  /** For a working piece. */
  readonly value: { readonly low_minor: number; readonly likely_minor: number; readonly high_minor: number } | null;
  readonly asking_minor: number | null;
  readonly resale: boolean;
  /** What a week without it is worth. */
  readonly week_minor: number;
  readonly premium: number;
  readonly tax: number;
  readonly fees: number;
  readonly freight_minor: number;
  readonly travel_minor: number;
  readonly margin_minor: number;
}

export interface Part extends UncertainAmount { readonly kind: "fault" | "unseen" | "weeks" | "on_top"; readonly id: string; readonly title: string }
type Shared = Pick<Catalogue, "checks" | "remedies">;
type Prices = ReadonlyMap<string, { readonly cost: CostSpan; readonly example: boolean }>;

export interface DealSheet {
  readonly currency: string;
  readonly ceiling: { readonly low_minor: number; readonly middle_minor: number; readonly high_minor: number } | null;
  readonly opening_minor: number | null;
  readonly asking_minor: number | null;
  /** What takes most off first. */
  readonly drives: readonly { readonly kind: Part["kind"]; readonly id: string; readonly title: string; readonly minor: number; readonly chance: number; readonly spread_share: number }[];
  /** How far the ceiling lies apart between found in order and found faulty, and what knowing is worth at the asking price, most first. */
  readonly checking: readonly { readonly check: string; readonly title: string; readonly seconds: number; readonly chance: number; readonly moves_minor: number; readonly worth_minor: number }[];
  readonly missing: readonly ("value" | "currency")[];
  readonly examples: boolean;
}

/**
 * The ceiling is the price, before premium and tax, at which the piece with all its costs is worth what is paid: its middle, and
 * the span that holds it 19 times in 20. `missing`: "value", and "currency" where costs in another currency were left out.
 */
export function dealSheet(deal: DealTerms, piece: Piece, answers: readonly Answer[], catalogue: Shared, ownCosts: readonly OwnCost[] = []): DealSheet {
  const { currency } = deal;
  const checks = applicable(piece, catalogue);
  const repairs = bundle(answers.filter(({ check }) => checks.some(({ id }) => id === check)), catalogue, ownCosts);
  const usable = repairs.filter(({ cost }) => cost.currency === currency);
  const called = calls(checks, verdict(piece, answers, catalogue).unlooked);
  const priced = pricesOf(catalogue, ownCosts);
  const foreign = usable.length < repairs.length || called.some(({ remedies }) => Object.keys(remedies).some((name) => priced.has(name) && priced.get(name)!.cost.currency !== currency));
  const sure = sureParts(deal, usable);
  const unseen = unseenParts(deal, called, usable, priced, catalogue);
  const reserve = unseen(chances(called));
  const found = {
    currency,
    ceiling: null,
    opening_minor: null,
    asking_minor: deal.asking_minor ?? null,
    drives: drivesOf([...sure, ...reserve]),
    checking: [],
    missing: [...(deal.value ? [] : ["value" as const]), ...(foreign ? ["currency" as const] : [])],
    examples: usable.some(({ example }) => example) || reserve.some(({ id }) => priced.get(id)?.example === true),
  };
  if (!deal.value) return found;
  const value = valuePart(deal);
  const total = distribution([value, ...[...sure, ...reserve].map(taken)]);
  const worthIf = (known: Readonly<Record<string, boolean>>) => meanOf(value) - [...sure, ...unseen(chances(called, known))].reduce((sum, part) => sum + meanOf(part), 0);
  return {
    ...found,
    ...priceSpans(total, deal),
    checking: checkingOf(called, worthIf, deal),
  };
}

/** What a sheet is summed from, for sums over pieces. */
export function dealParts(deal: DealTerms, piece: Piece, answers: readonly Answer[], catalogue: Shared, ownCosts: readonly OwnCost[] = []): { value: UncertainAmount | null; costs: Part[] } {
  const checks = applicable(piece, catalogue);
  const repairs = bundle(answers.filter(({ check }) => checks.some(({ id }) => id === check)), catalogue, ownCosts).filter(({ cost }) => cost.currency === deal.currency);
  const called = calls(checks, verdict(piece, answers, catalogue).unlooked);
  const unseen = unseenParts(deal, called, repairs, pricesOf(catalogue, ownCosts), catalogue);
  return { value: deal.value ? valuePart(deal) : null, costs: [...sureParts(deal, repairs), ...unseen(chances(called))] };
}

/** The price that `total`, an amount left to pay it with, comes to before premium and tax. */
export function priceSpans(total: Distribution, terms: Pick<DealTerms, "premium" | "tax">): { ceiling: NonNullable<DealSheet["ceiling"]>; opening_minor: number } {
  const price = (share: number) => halfAway(Math.max(0, quantile(total, share) / perPriceOf(terms)), 0);
  return { ceiling: { low_minor: price(QUANTILES.low), middle_minor: price(QUANTILES.middle), high_minor: price(QUANTILES.high) }, opening_minor: price(OPENING) };
}

/** What is paid in all for each 1 of the price: premium first, tax on both. */
function perPriceOf({ premium, tax }: Pick<DealTerms, "premium" | "tax">): number {
  return (1 + premium) * (1 + tax);
}

/** What the piece is worth to the person: its price, for resale less the fees on it. */
function valuePart({ value, resale, fees }: DealTerms): UncertainAmount {
  const kept = resale ? 1 - fees : 1;
  return { low: value!.low_minor * kept, likely: value!.likely_minor * kept, high: value!.high_minor * kept, chance: 1 };
}

/** Remedies of seen faults, the wait for the longest of them, and what comes on top of any price. */
function sureParts(deal: DealTerms, repairs: readonly CalledFor[]): Part[] {
  const longest = (end: "low" | "high") => Math.max(0, ...repairs.map(({ weeks }) => weeks[end])) * deal.week_minor;
  const [low, high] = [longest("low"), longest("high")];
  const sum = (id: string, title: string, minor: number): Part => ({ kind: "on_top", id, title, low: minor, likely: minor, high: minor, chance: 1 });
  const parts: Part[] = [
    ...repairs.map(({ remedy, title, cost }): Part => ({ kind: "fault", id: remedy, title, ...spanOf(cost), chance: 1 })),
    { kind: "weeks", id: "weeks", title: "Weeks without it", low, likely: (low + high) / 2, high, chance: 1 },
    sum("freight", "Freight", deal.freight_minor),
    sum("travel", "Travel", deal.travel_minor),
    ...(deal.resale ? [sum("margin", "Margin", deal.margin_minor)] : []),
  ];
  return parts.filter((part) => part.high > 0);
}

/** A function from chances to the parts of the reserve. What a seen fault pays for already is not reserved again. */
function unseenParts(deal: DealTerms, called: readonly UnseenLook[], repairs: readonly CalledFor[], priced: Prices, catalogue: Shared) {
  const seen = catalogue.remedies.filter(({ id }) => repairs.some(({ remedy }) => remedy === id));
  const paid = new Set(seen.flatMap(({ id, covers }) => [id, ...covers]));
  const titles = new Map(catalogue.remedies.map(({ id, title }) => [id, title]));
  const named = [...new Set(called.flatMap(({ remedies }) => Object.keys(remedies)))];
  return (byRemedy: Readonly<Record<string, number>>): Part[] => {
    const made = named.flatMap((id): Part[] => {
      const price = priced.get(id);
      if (!price || paid.has(id) || price.cost.currency !== deal.currency) return [];
      return [{ kind: "unseen", id, title: titles.get(id)!, ...spanOf(price.cost), chance: byRemedy[id]! }];
    });
    if (named.includes(NO_CURE) && deal.value) made.push({ ...valuePart(deal), kind: "unseen", id: NO_CURE, title: "A fault without a known cure", chance: byRemedy[NO_CURE]! });
    return made.filter(({ chance }) => chance > 0);
  };
}

function pricesOf({ remedies }: Shared, ownCosts: readonly OwnCost[]): Prices {
  return new Map(remedies.map(({ id, cost, example }) => {
    const own = ownCosts.find((one) => one.remedy === id && one.cost && !one.deleted);
    return [id, own ? { cost: own.cost!, example: false } : { cost, example }];
  }));
}

function spanOf({ low_minor: low, likely_minor: likely, high_minor: high }: CostSpan) {
  return { low, likely, high };
}

function taken({ low, likely, high, chance }: UncertainAmount): UncertainAmount {
  return { low: -high, likely: -likely, high: -low, chance };
}

/** Each part's mean, and its share of the costs' spread. */
function drivesOf(parts: readonly Part[]): DealSheet["drives"] {
  const spread = parts.reduce((sum, part) => sum + varianceOf(part), 0);
  return parts
    .map((part) => ({ kind: part.kind, id: part.id, title: part.title, minor: halfAway(meanOf(part), 0), chance: part.chance, spread_share: spread > 0 ? varianceOf(part) / spread : 0 }))
    .sort((a, b) => b.minor - a.minor);
}

/** The expected value of one more look: one buys only if the piece is worth more than is asked, so knowing first can save a mistake. */
function checkingOf(called: readonly UnseenLook[], worthIf: (known: Readonly<Record<string, boolean>>) => number, deal: DealTerms): DealSheet["checking"] {
  const perPrice = perPriceOf(deal);
  const paid = deal.asking_minor === null || deal.asking_minor === undefined ? null : deal.asking_minor * perPrice;
  const now = worthIf({});
  return called
    .map(({ check, title, seconds, chance }) => {
      const [fine, bad] = [worthIf({ [check]: false }), worthIf({ [check]: true })];
      const gain = paid === null ? 0 : (1 - chance) * Math.max(fine - paid, 0) + chance * Math.max(bad - paid, 0) - Math.max(now - paid, 0);
      return { check, title, seconds, chance, moves_minor: halfAway((fine - bad) / perPrice, 0), worth_minor: halfAway(Math.max(gain, 0), 0) };
    })
    .sort((a, b) => b.worth_minor - a.worth_minor || b.moves_minor - a.moves_minor);
}
