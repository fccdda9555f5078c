// How fair a seller's dealings were, with an interval, pulled toward what is usual for the kind of venue: one good deal is not twenty.

import { betaInterval } from "./intervals.ts";
import type { Dealing } from "./sellers.ts";

// A mixed dealing counts as half a fair one.
const FAIR: Readonly<Record<string, number>> = { fair: 1, mixed: 0.5, unfair: 0 };
// How many dealings the usual weighs as: read from the log where it can be, never more than 20 nor less than 2.
const [USUAL_WEIGHT, LEAST_WEIGHT, MOST_WEIGHT] = [4, 2, 20];
const LEAST_SELLERS = 5;

export interface SellerCount { readonly venue_kind: string; readonly fair: number; readonly of: number }
export interface Usual { readonly share: number; readonly weight: number }
export interface SellerEntry { readonly id: string; readonly venue_kind?: string; readonly same_as?: string | null; readonly deleted?: boolean }
export interface RankedSeller { readonly seller: string; readonly fair: number; readonly of: number; readonly mean: number; readonly low: number; readonly high: number }

/**
 * The usual share of fair dealings for a kind of venue, and as how many dealings it weighs.
 *
 * The share of a venue with few dealings leans on that of the whole log, that of a short log on a half. The weight follows
 * from how much sellers of the venue differ (method of moments for a beta-binomial) where five or more have two dealings,
 * else it is 4.
 */
export function usual(counts: readonly SellerCount[], venueKind: string): Usual {
  const total = (list: readonly SellerCount[], what: "fair" | "of") => list.reduce((sum, one) => sum + one[what], 0);
  const overall = (total(counts, "fair") + 1) / (total(counts, "of") + 2);
  const own = counts.filter((one) => one.venue_kind === venueKind && one.of > 0);
  const share = (total(own, "fair") + USUAL_WEIGHT * overall) / (total(own, "of") + USUAL_WEIGHT);
  return { share, weight: weightOf(own.filter((one) => one.of >= 2), share) };
}

/** A seller with so many fair dealings of so many, 95 %, given the usual. Order by `low`. */
export function fairness(fair: number, of: number, prior: Usual): { mean: number; low: number; high: number } {
  return betaInterval(prior.share * prior.weight + fair, (1 - prior.share) * prior.weight + of - fair);
}

/** The surest first. A seller noted as the same as another (`same_as`) lends it their dealings and is not listed. */
export function rankedSellers(sellers: readonly SellerEntry[], dealings: readonly Dealing[]): RankedSeller[] {
  const own = Object.fromEntries(sellers.filter((seller) => !seller.deleted).map((seller) => [seller.id, seller]));
  const judged = dealings.filter((one) => one.outcome !== undefined && one.outcome in FAIR && !one.deleted);
  const counts = new Map(Object.entries(own).filter(([id]) => head(id, own) === id).map(([id, one]) => [id, { venue_kind: one.venue_kind || "", fair: 0, of: 0 }]));
  for (const dealing of judged) {
    const count = counts.get(head(dealing.seller || "", own));
    if (!count) continue;
    count.fair += FAIR[dealing.outcome!]!;
    count.of += 1;
  }
  const all = [...counts.values()];
  const priors = new Map([...new Set(all.map(({ venue_kind: kind }) => kind))].map((kind) => [kind, usual(all, kind)]));
  return [...counts]
    .map(([seller, { venue_kind: kind, fair, of }]) => ({ seller, fair, of, ...fairness(fair, of, priors.get(kind)!) }))
    .sort((a, b) => b.low - a.low || b.of - a.of || (a.seller < b.seller ? -1 : 1));
}

/** The entry that stands for a seller after merging; a circle of entries stands for the first of them by id. */
export function head(seller: string, sellers: Readonly<Record<string, SellerEntry>>): string {
  const seen = [seller];
  for (;;) {
    const following = sellers[seen.at(-1)!]?.same_as;
    if (!following || !(following in sellers)) return seen.at(-1)!;
    if (seen.includes(following)) return seen.slice(seen.indexOf(following)).sort()[0]!;
    seen.push(following);
  }
}

function weightOf(sellers: readonly SellerCount[], share: number): number {
  if (sellers.length < LEAST_SELLERS) return USUAL_WEIGHT;
  const spread = sellers.reduce((sum, one) => sum + (one.fair / one.of - share) ** 2, 0) / (sellers.length - 1);
  const dealings = sellers.length / sellers.reduce((sum, one) => sum + 1 / one.of, 0);
  // Var(share of a seller) = share (1 - share) (1/n + (1 - 1/n) rho), weight = 1/rho - 1.
  const rho = (spread / (share * (1 - share)) - 1 / dealings) / (1 - 1 / dealings);
  return rho <= 0 ? MOST_WEIGHT : Math.min(Math.max(1 / Math.min(rho, 1) - 1, LEAST_WEIGHT), MOST_WEIGHT);
}
