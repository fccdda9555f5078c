// Firings found among scored pairs: which reading is likeliest, how sure, between which limits (steps 10-14).

import type { Pair } from "./shutter_pairs.ts";
import type { TimingConstants } from "./shutter_signal.ts";

/** A pair and its probability within one event. */
export interface Rival {
  readonly pair: Pair;
  readonly p: number;
}

/** One firing and the readings that compete for it. */
export interface Event {
  readonly best: Pair;
  /** All pairs of this event, likeliest first. */
  readonly rivals: readonly Rival[];
  /** The rivals by open time, likeliest group first. */
  readonly groups: readonly (readonly Rival[])[];
  /** Probability of the answer's group. */
  readonly p: number;
  /** Probability that there is no firing here. */
  readonly noneP: number;
}

export type Verdict = "clear" | "doubtful" | "unusable";

/** The firings of a recording, likeliest first; the first is there even if it is doubtful. Empty if no pair is. */
export function findEvents(pairs: readonly Pair[], constants: TimingConstants): Event[] {
  const limits = constants.further;
  const events: Event[] = [];
  let alive = [...pairs];
  while (events.length < limits.most && alive.length > 0) {
    const event = oneEvent(alive, constants);
    if (events[0] && !isFurther(event, events[0], limits)) break;
    events.push(event);
    const { openS, closeS } = event.best;
    alive = alive.filter((pair) => pair.closeS < openS - limits.clear_before_s || pair.openS > closeS + limits.clear_after_s);
  }
  return events;
}

/** The likeliest firing among `alive` (not empty), against all that overlap it and against "none of these". */
function oneEvent(alive: readonly Pair[], constants: TimingConstants): Event {
  const top = alive.reduce((best, pair) => (pair.score > best.score ? pair : best));
  const overlap = constants.event.overlap_s;
  const overlapping = alive
    .filter((pair) => pair.openS <= top.closeS + overlap && pair.closeS >= top.openS - overlap)
    .sort((a, b) => b.score - a.score);
  // Relative to the highest exponent, so that nothing overflows; "none" has score 0.
  const highest = Math.max(top.score, 0);
  const odds = overlapping.map((pair) => Math.exp(pair.score - highest));
  const noneOdds = Math.exp(-highest);
  const allOdds = odds.reduce((sum, value) => sum + value, 0) + noneOdds;
  const rivals = overlapping.map((pair, index) => ({ pair, p: odds[index]! / allOdds }));
  const groups = grouped(rivals, constants);
  return { best: groups[0]![0]!.pair, rivals, groups, p: totalP(groups[0]!), noneP: noneOdds / allOdds };
}

/** The rivals grouped by agreeing open time around the likeliest not yet grouped; the likeliest group first. */
function grouped(rivals: readonly Rival[], constants: TimingConstants): Rival[][] {
  const { same_ms: sameMs, same_share: sameShare } = constants.event;
  const groups: Rival[][] = [];
  let free = [...rivals];
  while (free.length > 0) {
    const timeS = free[0]!.pair.openTimeS;
    const agree = Math.max(sameMs / 1000, sameShare * timeS);
    groups.push(free.filter(({ pair }) => Math.abs(pair.openTimeS - timeS) <= agree));
    free = free.filter(({ pair }) => Math.abs(pair.openTimeS - timeS) > agree);
  }
  return groups.sort((a, b) => totalP(b) - totalP(a));
}

function isFurther(event: Event, first: Event, limits: TimingConstants["further"]): boolean {
  const ratio = event.best.openTimeS / first.best.openTimeS;
  return (
    event.p >= limits.least_p &&
    event.noneP <= limits.most_none &&
    event.best.close.levelDb >= first.best.close.levelDb - limits.below_first_db &&
    ratio >= 1 / limits.factor &&
    ratio <= limits.factor
  );
}

/** Half of the 95 % interval of a pair's open time, in seconds, given that it is the right pair. */
export function halfWidthS(pair: Pair, constants: TimingConstants): number {
  const limits = constants.interval;
  const timeMs = 1000 * pair.openTimeS;
  const parts = [
    onsetMs(pair.open.jumpDb, limits),
    onsetMs(pair.close.jumpDb, limits),
    limits.impact_ms,
    Math.min(limits.choice_ms, limits.choice_share * timeMs),
  ];
  return (Math.hypot(...parts) + limits.clock_ppm * 1e-6 * timeMs) / 1000;
}

function onsetMs(jumpDb: number, limits: TimingConstants["interval"]): number {
  const row = (limits.onset_ms as [number, number][]).find(([leastDb]) => jumpDb >= leastDb);
  return row ? row[1] : limits.weak_onset_ms;
}

/** The 95 % interval [low, high] in seconds around `answer`, widened to the readings that may be meant instead. */
export function limitsS(event: Event, answer: Pair, constants: TimingConstants): [number, number] {
  const limits = constants.interval;
  const half = halfWidthS(answer, constants);
  let low = answer.openTimeS - half;
  let high = answer.openTimeS + half;
  const allP = totalP(event.rivals);
  let held = 0;
  for (const group of event.groups) {
    if (held >= limits.hold * allP) break;
    for (const { pair, p } of group) {
      if (p < limits.member_share * group[0]!.p) continue;
      low = Math.min(low, pair.openTimeS);
      high = Math.max(high, pair.openTimeS);
    }
    held += totalP(group);
  }
  return [low, high];
}

/** ["clear", null], or "doubtful" or "unusable" with the id of the reason. */
export function verdictOf(event: Event, lowS: number, highS: number, constants: TimingConstants): [Verdict, string | null] {
  const limits = constants.verdict;
  if (event.noneP > limits.none_unusable) return ["unusable", "no_pair_stands_out"];
  if (event.noneP > limits.none_doubtful) return ["doubtful", "may_not_be_a_shutter"];
  if (event.groups[1] && totalP(event.groups[1]) > limits.second_p) return ["doubtful", "two_readings_fit"];
  if (lowS <= 0 || Math.log2(highS / lowS) / 2 > limits.clear_stops) return ["doubtful", "interval_too_wide"];
  if (Math.min(event.best.open.levelDb, event.best.close.levelDb) < limits.least_level_db) return ["doubtful", "weak_click"];
  if (event.p < limits.clear_p) return ["doubtful", "other_readings_fit"];
  return ["clear", null];
}

function totalP(rivals: readonly Rival[]): number {
  return rivals.reduce((sum, { p }) => sum + p, 0);
}
