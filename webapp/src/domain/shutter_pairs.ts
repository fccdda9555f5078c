// Pairs of clicks that may be the opening and the closing, each with a score from features and their products (steps 8 and 9).
//
// A feature is named after what it looks at; levels are in tens of dB, so that weights compare.

import type { Click } from "./shutter_candidates.ts";
import { meanDb, type Signal, type TimingConstants } from "./shutter_signal.ts";

/** A possible firing. */
export interface Pair {
  readonly open: Click;
  readonly close: Click;
  readonly openS: number;
  readonly closeS: number;
  readonly openTimeS: number;
  /** Log of the odds against "none of these". */
  readonly score: number;
}

type Weights = TimingConstants["weights"]["marked"]["short"];
type Span = readonly number[];
/** A click so close before the closing one is part of it. */
const FOLLOWS_BEFORE_MS = 0.5;

type Term = readonly [one: string, other: string | null, weight: number];

/** All pairs of the strongest clicks that are long and short enough, scored; `markedS` null = speed not known. */
export function findPairs(signal: Signal, clicks: readonly Click[], markedS: number | null, constants: TimingConstants): Pair[] {
  const strongest = strongestClicks(clicks, constants);
  const weights = markedS === null ? constants.weights.unmarked : constants.weights.marked;
  const [short, long] = [terms(weights.short), terms(weights.long)];
  const longFromS = constants.features.long_ms / 1000;
  const look = new Look(signal, strongest, markedS, constants.features);
  const pairs: Pair[] = [];
  strongest.forEach((open, index) => {
    for (const close of strongest.slice(index + 1)) {
      const openTimeS = (close.at - open.at) / signal.rateHz;
      if (!isPossible(openTimeS, markedS, constants.pairs)) continue;
      const values = look.features(open, close);
      const score = openTimeS > longFromS ? weights.long.bias + weighed(values, long) : weights.short.bias + weighed(values, short);
      pairs.push({ open, close, openS: open.at / signal.rateHz, closeS: close.at / signal.rateHz, openTimeS, score });
    }
  });
  return pairs;
}

/** The weights taken apart: one named "one*other" is of the product of two features. */
function terms(weights: Weights): Term[] {
  return Object.entries(weights)
    .filter(([name]) => name !== "bias")
    .map(([name, weight]) => {
      const [one, other] = name.split("*");
      return [one!, other ?? null, weight] as const;
    });
}

function weighed(values: Readonly<Record<string, number>>, of: readonly Term[]): number {
  let total = 0;
  for (const [one, other, weight] of of) total += weight * values[one]! * (other === null ? 1 : values[other]!);
  return total;
}

/** The clicks with the most level and jump, in order of time. */
function strongestClicks(clicks: readonly Click[], constants: TimingConstants): Click[] {
  const rank = (click: Click) => click.levelDb + constants.pairs.jump_share * click.jumpDb;
  return [...clicks]
    .sort((a, b) => rank(b) - rank(a))
    .slice(0, constants.pairs.candidates)
    .sort((a, b) => a.at - b.at);
}

function isPossible(timeS: number, markedS: number | null, limits: TimingConstants["pairs"]): boolean {
  if (timeS < limits.least_s || timeS > limits.most_s) return false;
  return markedS === null || (timeS >= limits.least_of_marked * markedS && timeS <= limits.most_of_marked * markedS);
}

/** Looks at a pair among all strong clicks of one recording. */
class Look {
  private readonly loudestDb: number;
  private readonly ms: number;

  constructor(
    private readonly signal: Signal,
    private readonly clicks: readonly Click[],
    private readonly markedS: number | null,
    private readonly is: TimingConstants["features"],
  ) {
    this.loudestDb = Math.max(...clicks.map((click) => click.levelDb));
    this.ms = signal.rateHz / 1000;
  }

  /** The features of a pair; one that cannot be told is 0. */
  features(open: Click, close: Click): Record<string, number> {
    const { is, ms, signal } = this;
    const timeMs = (close.at - open.at) / ms;
    const weakerDb = Math.min(open.levelDb, close.levelDb);
    const offStops = this.markedS === null ? 0 : Math.log2(timeMs / 1000 / this.markedS);
    const beforeDb = this.quietDb(open, is.quiet_before_ms);
    const afterDb = this.quietDb(close, is.quiet_after_ms);
    const inset = is.buzz_inset_ms * ms;
    const buzzDb = meanDb(signal, open.at + inset, close.at - inset, NaN);
    const [leastBuzz, mostBuzz] = is.buzz_db as [number, number];
    const isMarked = this.markedS !== null;
    const isBetween = (at: number) => at > open.at && at < close.at;
    const isJustAfter = (at: number) => at > close.at && within((at - close.at) / ms, is.after_ms);
    const isOutside = (at: number) => (at - open.at) / ms < is.before_ms[0]! || (at - close.at) / ms > is.after_ms[1]!;
    return {
      level_open: Math.min(open.levelDb, is.level_most_db) / 10,
      level_close: Math.min(close.levelDb, is.level_most_db) / 10,
      below_loudest_open: (open.levelDb - this.loudestDb) / 10,
      below_loudest_close: (close.levelDb - this.loudestDb) / 10,
      balance: Math.min(Math.abs(close.levelDb - open.levelDb - is.balance_db), is.rival_most_db) / 10,
      jump_open: Math.min(open.jumpDb, is.jump_most_db) / 10,
      jump_close: Math.min(close.jumpDb, is.jump_most_db) / 10,
      slow: clip(offStops, 0, 2),
      fast: clip(-offStops, 0, 2),
      near_mark: isMarked ? clip(1 - Math.abs(offStops) / is.near_stops, 0, 1) : 0,
      top_speed: this.markedS !== null && this.markedS < is.top_speed_s ? clip(offStops, -1, 1) : 0,
      inside: this.rival(isBetween, weakerDb),
      after: this.rival(isJustAfter, close.levelDb),
      before: this.rival((at) => within((at - open.at) / ms, is.before_ms), open.levelDb),
      release: this.clicks.some(({ at }) => within((at - open.at) / ms, is.release_ms)) ? 1 : 0,
      release_level: this.follower((at) => within((at - open.at) / ms, is.before_ms), open.levelDb),
      rebound: this.follower((at) => isBetween(at) && within((at - open.at) / ms, is.rebound_ms), open.levelDb),
      bounces: this.follower(isJustAfter, close.levelDb),
      follows: this.follower((at) => at > open.at && within((at - open.at) / ms, is.follows_ms) && (at - close.at) / ms < -FOLLOWS_BEFORE_MS, open.levelDb),
      buzz: timeMs > is.buzz_from_ms ? orZero(clip(buzzDb - Math.max(beforeDb, afterDb), leastBuzz, mostBuzz)) / 10 : 0,
      unusual: Math.abs(Math.log10(timeMs / 1000 / is.usual_s)),
      crowd: Math.min(this.count(({ at }) => isBetween(at)), is.crowd_most) / 2,
      noise_before: clip(beforeDb - signal.floorDb, 0, is.quiet_most_db) / 10,
      noise_after: clip(afterDb - signal.floorDb, 0, is.quiet_most_db) / 10,
      neighbours: Math.min(this.neighbours(open, close, weakerDb - is.neighbour_db), is.neighbour_most) / 3,
      busy: Math.min(this.count(({ at, levelDb }) => levelDb >= weakerDb - is.busy_db && isOutside(at)), is.busy_most) / 5,
      last: this.clicks.some(({ at, levelDb }) => levelDb >= weakerDb - is.rival_db && (at - close.at) / ms > is.last_after_ms) ? 0 : 1,
      early: this.rival((at) => isBetween(at) && within((at - open.at) / ms, is.early_ms), open.levelDb),
      gap: orZero(clip(this.quietDb(open, is.gap_ms) - buzzDb, is.gap_least_db, 0)) / 10,
    };
  }

  private quietDb(click: Click, spanMs: Span): number {
    return meanDb(this.signal, click.at + spanMs[0]! * this.ms, click.at + spanMs[1]! * this.ms, this.signal.floorDb);
  }

  /** How close the strongest click at such a place comes to `ofDb`. */
  private rival(isThere: (at: number) => boolean, ofDb: number): number {
    return clip(this.strongest(isThere) - ofDb + this.is.rival_db, 0, this.is.rival_most_db) / 10;
  }

  /** The same for the weaker company that a click keeps: a release before it, bounces after it. */
  private follower(isThere: (at: number) => boolean, ofDb: number): number {
    return clip(this.strongest(isThere) - ofDb + this.is.company_db, 0, this.is.company_db) / 10;
  }

  private strongest(isThere: (at: number) => boolean): number {
    let strongest = -Infinity;
    for (const { at, levelDb } of this.clicks) if (levelDb > strongest && isThere(at)) strongest = levelDb;
    return strongest;
  }

  private neighbours(open: Click, close: Click, leastDb: number): number {
    const { is, ms } = this;
    return this.count(
      ({ at, levelDb }) =>
        levelDb >= leastDb && (within((at - open.at) / ms, is.neighbour_before_ms) || within((at - close.at) / ms, is.neighbour_after_ms)),
    );
  }

  private count(isCounted: (click: Click) => boolean): number {
    let found = 0;
    for (const click of this.clicks) if (isCounted(click)) found += 1;
    return found;
  }
}

function within(ms: number, span: Span): boolean {
  return ms >= span[0]! && ms <= span[1]!;
}

function clip(value: number, least: number, most: number): number {
  return Math.min(Math.max(value, least), most);
}

function orZero(value: number): number {
  return Number.isNaN(value) ? 0 : value;
}
