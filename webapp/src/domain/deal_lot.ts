// What a lot may cost at most: the values of its pieces less all their costs, and what comes on top of the lot once.

import type { Catalogue } from "./catalogue.ts";
import type { Answer, Piece } from "./checks.ts";
import { distribution, meanOf, type UncertainAmount } from "./cost_total.ts";
import { dealParts, type DealSheet, type DealTerms, priceSpans } from "./deal_sheet.ts";
import type { OwnCost } from "./remedies.ts";
import { halfAway } from "./rounding.ts";

/** A piece of the lot; its deal is in the lot's currency. */
export interface LotPiece { readonly id: string; readonly deal: DealTerms; readonly piece: Piece; readonly answers: readonly Answer[] }

export interface DealLot extends Pick<DealSheet, "currency" | "ceiling" | "opening_minor" | "asking_minor"> {
  /** `counts`: whether it is in the sum. One without a value is not, nor one whose costs are above its value, as nobody must repair it. */
  readonly pieces: readonly { readonly id: string; readonly value_minor: number | null; readonly costs_minor: number; readonly counts: boolean }[];
  readonly on_top_minor: number;
  /** Ids of pieces without a value. */
  readonly missing: readonly string[];
}

/** The lot's own value is left aside, and so are each piece's own freight, travel and margin: the lot is fetched once. */
export function dealLot(lot: DealTerms, pieces: readonly LotPiece[], catalogue: Pick<Catalogue, "checks" | "remedies">, ownCosts: readonly OwnCost[] = []): DealLot {
  const parts: UncertainAmount[] = [];
  const rows = pieces.map(({ id, deal, piece, answers }) => {
    const found = dealParts({ ...deal, freight_minor: 0, travel_minor: 0, margin_minor: 0 }, piece, answers, catalogue, ownCosts);
    const costs = found.costs.reduce((sum, part) => sum + meanOf(part), 0);
    const value = found.value && meanOf(found.value);
    const counts = value !== null && value > costs;
    if (counts) parts.push(found.value!, ...found.costs.map(({ low, likely, high, chance }) => ({ low: -high, likely: -likely, high: -low, chance })));
    return { id, value_minor: value === null ? null : halfAway(value, 0), costs_minor: halfAway(costs, 0), counts };
  });
  const onTop = lot.freight_minor + lot.travel_minor + (lot.resale ? lot.margin_minor : 0);
  const known = rows.some(({ value_minor: value }) => value !== null);
  const spans = known ? priceSpans(distribution([...parts, { low: -onTop, likely: -onTop, high: -onTop, chance: 1 }]), lot) : { ceiling: null, opening_minor: null };
  return {
    currency: lot.currency,
    ...spans,
    asking_minor: lot.asking_minor ?? null,
    pieces: rows,
    on_top_minor: onTop,
    missing: rows.filter(({ value_minor: value }) => value === null).map(({ id }) => id),
  };
}
