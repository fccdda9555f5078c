// How long a wanted piece takes to turn up: a survival curve over the person's own wants, those still open counted as such.

import { Z } from "./intervals.ts";
import { daysBetween } from "./price_baseline.ts";

const HALF = 0.5 + 1e-12; // a half that was multiplied together may miss it by its last digit

export interface Wait { readonly weeks: number; readonly found: boolean }

export interface WaitStep {
  readonly weeks: number;
  readonly at_risk: number;
  readonly found: number;
  /** The share still waiting after that many weeks. */
  readonly still: number;
  readonly se: number;
  readonly low: number;
  readonly high: number;
}

/** A want record. */
export interface Want {
  readonly wanted?: string;
  readonly found?: string | null;
  readonly dropped?: string | null;
  readonly deleted?: boolean;
}

/**
 * One step at every time one was found (Kaplan and Meier), `se` by Greenwood, low and high 95 % on the scale of log(-log). At a
 * tie the finding comes before the end of watching.
 */
export function survival(waits: readonly Wait[]): WaitStep[] {
  let [still, variance] = [1, 0];
  const times = [...new Set(waits.filter(({ found }) => found).map(({ weeks }) => weeks))].sort((a, b) => a - b);
  return times.map((weeks) => {
    const atRisk = waits.filter((wait) => wait.weeks >= weeks).length;
    const found = waits.filter((wait) => wait.found && wait.weeks === weeks).length;
    still *= 1 - found / atRisk;
    variance += atRisk > found ? found / (atRisk * (atRisk - found)) : Infinity;
    const [low, high] = interval(still, variance);
    return { weeks, at_risk: atRisk, found, still, se: still > 0 ? still * Math.sqrt(variance) : 0, low, high };
  });
}

/**
 * After how many weeks half had turned up, with 95 %; null where the curve does not come down to a half.
 *
 * Once the last was found the curve has no interval left, so that step does not end one.
 */
export function medianWait(steps: readonly WaitStep[]): { weeks: number | null; low: number | null; high: number | null } {
  const half = (side: "still" | "low" | "high", curve = steps.filter(({ still }) => still > 0)) => curve.find((step) => step[side] <= HALF)?.weeks ?? null;
  return { weeks: half("still", [...steps]), low: half("low"), high: half("high") };
}

/** The chance that one turns up within so many weeks of being wanted, 95 %; 0 to 0 before the first that did. */
export function chanceWithin(steps: readonly WaitStep[], weeks: number): { chance: number; low: number; high: number } {
  const last = steps.findLast((step) => step.weeks <= weeks);
  return last ? { chance: 1 - last.still, low: 1 - last.high, high: 1 - last.low } : { chance: 0, low: 0, high: 0 };
}

/**
 * Found wants end; open and dropped ones are watched until today or the day they were dropped. Left out: wants without a day,
 * wanted in the future, and those found or dropped before they were wanted.
 */
export function waitsOf(wants: readonly Want[], today: string): Wait[] {
  return wants.flatMap(({ wanted, found, dropped, deleted }) => {
    if (!wanted || deleted) return [];
    const days = daysBetween(wanted, found || dropped || today);
    return days >= 0 ? [{ weeks: days / 7, found: Boolean(found) }] : [];
  });
}

function interval(still: number, variance: number): [number, number] {
  if (still >= 1 || still <= 0 || !Number.isFinite(variance)) return [still, still];
  const half = (Z * Math.sqrt(variance)) / Math.log(still);
  const bounds = [still ** Math.exp(half), still ** Math.exp(-half)];
  return [Math.min(...bounds), Math.max(...bounds)];
}
