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
  let alive = pairs.map((pair) => ({ pair, score: pair.score }));
  while (events.length < limits.most && alive.length > 0) {
    const event = oneEvent(alive, constants);
    const first = events[0];
    if (first && !isFurther(event, first, limits)) break;
    events.push(event);
    const { openS, closeS, openTimeS } = event.best;
    alive = alive.filter(({ pair }) => pair.closeS < openS - limits.clear_before_s || pair.openS > closeS + limits.clear_after_s);
    if (!first) alive = alive.map(({ pair, score }) => ({ pair, score: score + agreement(pair, openTimeS, limits) }));
  }
  return events;
}

/** What is added to the score of further firings: one shutter at one speed repeats itself, other noises do not. */
function agreement(pair: Pair, firstS: number, limits: TimingConstants["further"]): number {
  const off = Math.log2(pair.openTimeS / firstS) / limits.agree_stops;
  return limits.agree_gain * Math.exp(-0.5 * off * off) - limits.differ_cost;
}

/** The likeliest firing among `alive` (not empty), against all of them and against "none of these". */
function oneEvent(alive: readonly { readonly pair: Pair; readonly score: number }[], constants: TimingConstants): Event {
  const sorted = [...alive].sort((a, b) => b.score - a.score);
  // Relative to the highest exponent, so that nothing overflows; "none" has score 0.
  const highest = Math.max(sorted[0]!.score, 0);
  const odds = sorted.map(({ score }) => Math.exp(score - highest));
  const noneOdds = Math.exp(-highest);
  const allOdds = odds.reduce((sum, value) => sum + value, 0) + noneOdds;
  const rivals = sorted.map(({ pair }, index) => ({ pair, p: odds[index]! / allOdds }));
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

/** Half of the 95 % interval of a pair's open time, in seconds, given that it is about the right pair. */
export function halfWidthS(pair: Pair, constants: TimingConstants): number {
  const limits = constants.interval;
  const timeMs = 1000 * pair.openTimeS;
  const choiceMs = Math.min(limits.choice_ms, limits.choice_share * timeMs);
  return Math.hypot(placingS(pair, limits), choiceMs / 1000) + limits.clock_ppm * 1e-9 * timeMs;
}

/** How well the time between the two clicks of a pair is known, in seconds: 95 %. */
function placingS(pair: Pair, limits: TimingConstants["interval"]): number {
  return Math.hypot(onsetMs(pair.open.jumpDb, limits), onsetMs(pair.close.jumpDb, limits), limits.impact_ms, limits.reflection_ms) / 1000;
}

function onsetMs(jumpDb: number, limits: TimingConstants["interval"]): number {
  const row = (limits.onset_ms as [number, number][]).find(([leastDb]) => jumpDb >= leastDb);
  return row ? row[1] : limits.weak_onset_ms;
}

/**
 * The 95 % interval [low, high] in seconds: how well the clicks are placed, widened to the narrowest span (in stops) of
 * readings that holds enough of the probability, and to the neighbouring readings that are at all likely.
 */
export function limitsS(event: Event, answer: Pair, constants: TimingConstants): [number, number] {
  const limits = constants.interval;
  const timeS = answer.openTimeS;
  const sorted = [...event.rivals].sort((a, b) => a.pair.openTimeS - b.pair.openTimeS);
  const log2Times = sorted.map(({ pair }) => Math.log2(pair.openTimeS));
  const inside = sorted.findIndex(({ pair }) => pair.openTimeS >= timeS);
  const span = narrowest(log2Times, sorted.map(({ p }) => p), inside, limits.hold);
  let [lowS, highS] = span.map((index) => sorted[index]!.pair.openTimeS) as [number, number];
  // Taking a neighbouring click is the commonest error, and to allow for it costs little.
  for (const { pair, p } of sorted) {
    if (p < limits.near_p || Math.abs(Math.log2(pair.openTimeS / timeS)) > limits.near_stops) continue;
    lowS = Math.min(lowS, pair.openTimeS);
    highS = Math.max(highS, pair.openTimeS);
  }
  const half = halfWidthS(answer, constants);
  const placing = placingS(answer, limits);
  [lowS, highS] = [Math.min(timeS - half, lowS - placing), Math.max(timeS + half, highS + placing)];
  if (!isSure(event, answer, constants)) {
    // The true opening may be hidden in the ringing of the release, which then reads as the opening: the time is shorter.
    const hiddenS = Math.min(limits.hidden_ms / 1000, limits.hidden_share * timeS);
    lowS = Math.min(lowS, Math.max(timeS - hiddenS, highS / 2 ** limits.hidden_most_stops));
  }
  return [lowS, highS];
}

/** [first, last] of the narrowest span around position `inside` that holds the share `hold` of all probability. */
export function narrowest(log2Times: ArrayLike<number>, p: ArrayLike<number>, inside: number, hold: number): [number, number] {
  const below = new Float64Array(p.length + 1);
  for (let index = 0; index < p.length; index += 1) below[index + 1] = below[index]! + p[index]!;
  const all = below[p.length]!;
  let best: [number, number] = [0, p.length - 1];
  let found = Infinity;
  let end = 0;
  for (let first = 0; first <= inside; first += 1) {
    const enough = below[first]! + hold * all;
    while (end <= p.length && below[end]! < enough) end += 1;
    const last = Math.max(end - 1, inside);
    if (last >= p.length) break;
    const width = log2Times[last]! - log2Times[first]!;
    if (width < found) {
      best = [first, last];
      found = width;
    }
  }
  return best;
}

/** Whether a firing is likely enough, and so is, given one, a time near the answer: which of two neighbouring clicks may not matter. */
function isSure(event: Event, answer: Pair, constants: TimingConstants): boolean {
  const { sure_stops: within, none_clear: noneClear, clear_p: clearP } = constants.verdict;
  const nearP = totalP(event.rivals.filter(({ pair }) => Math.abs(Math.log2(pair.openTimeS / answer.openTimeS)) <= within));
  return event.noneP <= noneClear && nearP >= clearP * (1 - event.noneP);
}

/** ["clear", null], or "doubtful" or "unusable" with the id of the reason. */
export function verdictOf(event: Event, answer: Pair, lowS: number, highS: number, constants: TimingConstants): [Verdict, string | null] {
  const limits = constants.verdict;
  if (event.noneP > limits.none_unusable) return ["unusable", "no_pair_stands_out"];
  if (event.noneP > limits.none_doubtful) return ["doubtful", "may_not_be_a_shutter"];
  if (!isSure(event, answer, constants)) {
    const second = event.groups[1];
    return ["doubtful", second && totalP(second) > limits.second_p ? "two_readings_fit" : "other_readings_fit"];
  }
  if (lowS <= 0 || Math.log2(highS / lowS) / 2 > limits.clear_stops) return ["doubtful", "interval_too_wide"];
  if (Math.min(answer.open.levelDb, answer.close.levelDb) < limits.least_level_db) return ["doubtful", "weak_click"];
  return ["clear", null];
}

function totalP(rivals: readonly Rival[]): number {
  return rivals.reduce((sum, { p }) => sum + p, 0);
}
