// What repairs really cost and how long they took, by remedy and currency: figures offered for the person's own table.

import type { CostSpan } from "./catalogue.ts";
import { median } from "./intervals.ts";
import type { Money } from "./money.ts";
import { daysBetween } from "./price_baseline.ts";
import { halfAway } from "./rounding.ts";

/** A repair record; days are yyyy-mm-dd. */
export interface Repair {
  readonly id?: string;
  readonly remedy?: string | null;
  readonly cost?: Money | null;
  readonly sent?: string | null;
  readonly promised?: string | null;
  readonly back?: string | null;
  readonly deleted?: boolean;
}

export interface RepairCost {
  readonly remedy: string;
  readonly n: number;
  /** Likely is the median; low and high are the least and the most that was paid. */
  readonly cost: CostSpan;
  /** From sent to back, where both days are known. */
  readonly weeks: { readonly low: number; readonly high: number } | null;
}

export interface RepairDays {
  readonly state: "planned" | "away" | "back";
  /** From sent until back, or until today; null where not sent. */
  readonly away_days: number | null;
  /** After the promised day; 0 in time, null where nothing was promised. */
  readonly late_days: number | null;
  /** Days that do not go together. */
  readonly doubts: readonly ("promised_before_sent" | "back_before_sent" | "in_future")[];
}

type Paid = Repair & { readonly remedy: string; readonly cost: Money };

/** By remedy, then currency; only repairs with a remedy and a cost count. */
export function repairCosts(repairs: readonly Repair[]): RepairCost[] {
  const kept = repairs.filter((one): one is Paid => Boolean(one.remedy && one.cost && !one.deleted));
  const keyOf = ({ remedy, cost }: Paid) => `${remedy}\n${cost.currency}`;
  return [...new Set(kept.map(keyOf))].sort().map((key) => {
    const own = kept.filter((one) => keyOf(one) === key);
    const paid = own.map(({ cost }) => cost.minor).sort((a, b) => a - b);
    const [remedy = "", currency = ""] = key.split("\n");
    return { remedy, n: own.length, cost: { currency, low_minor: paid[0]!, likely_minor: halfAway(median(paid), 0), high_minor: paid.at(-1)! }, weeks: weeksOf(own) };
  });
}

/** One repair as of `today` (yyyy-mm-dd). */
export function repairDays(repair: Repair, today: string): RepairDays {
  const [sent, promised, back] = [repair.sent || null, repair.promised || null, repair.back || null];
  const until = back ?? today;
  const doubts: RepairDays["doubts"][number][] = [];
  if (sent && promised && promised < sent) doubts.push("promised_before_sent");
  if (sent && back && back < sent) doubts.push("back_before_sent");
  if ((sent && sent > today) || (back && back > today)) doubts.push("in_future");
  return {
    state: back ? "back" : sent ? "away" : "planned",
    away_days: sent ? Math.max(daysBetween(sent, until), 0) : null,
    late_days: promised ? Math.max(daysBetween(promised, until), 0) : null,
    doubts,
  };
}

function weeksOf(repairs: readonly Repair[]): RepairCost["weeks"] {
  const took = repairs.flatMap(({ sent, back }) => (sent && back && sent <= back ? [daysBetween(sent, back)] : []));
  return took.length === 0 ? null : { low: halfAway(Math.min(...took) / 7, 1), high: halfAway(Math.max(...took) / 7, 1) };
}
