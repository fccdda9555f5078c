// What looks not taken may still cost: the remedies that unseen stops-checks might call for, each charged once, with its chance.

import type { Check } from "./catalogue.ts";
import { CHANCE } from "./checks.ts";

/** Stands for a fault without a known cure: it takes the whole value. */
export const NO_CURE = "no_cure";

export interface UnseenLook {
  readonly check: string;
  readonly title: string;
  readonly seconds: number;
  readonly chance: number;
  /** Remedy (or "no_cure") to its share of the chance. */
  readonly remedies: Readonly<Record<string, number>>;
}

/** Of the stops-checks not looked at. A check whose faults have several remedies calls for each with an equal share, as nothing better is known. */
export function calls(checks: readonly Check[], unlooked: readonly string[]): UnseenLook[] {
  return checks
    .filter(({ id }) => unlooked.includes(id))
    .map(({ id, title, seconds, chance, faults }) => {
      const remedies = [...new Set(faults.filter(({ picture }) => picture === "stops").map(({ remedy }) => remedy ?? NO_CURE))];
      return { check: id, title, seconds, chance: CHANCE[chance], remedies: Object.fromEntries(remedies.map((remedy) => [remedy, 1 / remedies.length])) };
    });
}

/**
 * Remedy to the chance that at least one of the looks calls for it: 1 - product of (1 - chance of each).
 * `known`: check to whether it was found faulty, for looks imagined as taken.
 */
export function chances(called: readonly UnseenLook[], known: Readonly<Record<string, boolean>> = {}): Record<string, number> {
  const missed: Record<string, number> = {};
  for (const one of called) {
    const faulty = known[one.check];
    const chance = faulty === undefined ? one.chance : Number(faulty);
    for (const [remedy, share] of Object.entries(one.remedies)) missed[remedy] = (missed[remedy] ?? 1) * (1 - chance * share);
  }
  return Object.fromEntries(Object.entries(missed).map(([remedy, still]) => [remedy, 1 - still]));
}
