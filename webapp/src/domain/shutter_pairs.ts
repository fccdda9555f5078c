// Pairs of clicks that may be the opening and the closing, each with a score from 22 features (steps 8 and 9).
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

type Features = Omit<TimingConstants["weights"]["marked"], "bias">;
type Span = readonly number[];

/** All pairs of the strongest clicks that are long and short enough, scored; `markedS` null = speed not known. */
export function findPairs(signal: Signal, clicks: readonly Click[], markedS: number | null, constants: TimingConstants): Pair[] {
  const strongest = strongestClicks(clicks, constants);
  const weights = markedS === null ? constants.weights.unmarked : constants.weights.marked;
  const look = new Look(signal, strongest, markedS, constants.features);
  const pairs: Pair[] = [];
  strongest.forEach((open, index) => {
    for (const close of strongest.slice(index + 1)) {
      const openTimeS = (close.at - open.at) / signal.rateHz;
      if (!isPossible(openTimeS, markedS, constants.pairs)) continue;
      let score = weights.bias;
      for (const [name, value] of Object.entries(look.features(open, close))) score += weights[name as keyof Features] * value;
      pairs.push({ open, close, openS: open.at / signal.rateHz, closeS: close.at / signal.rateHz, openTimeS, score });
    }
  });
  return pairs;
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
  features(open: Click, close: Click): Features {
    const { is, ms, signal } = this;
    const timeMs = (close.at - open.at) / ms;
    const weakerDb = Math.min(open.levelDb, close.levelDb);
    const offStops = this.markedS === null ? 0 : Math.log2(timeMs / 1000 / this.markedS);
    const beforeDb = this.quietDb(open, is.quiet_before_ms);
    const afterDb = this.quietDb(close, is.quiet_after_ms);
    const inset = is.buzz_inset_ms * ms;
    const buzzDb = meanDb(signal, open.at + inset, close.at - inset, NaN);
    const long = timeMs > is.long_ms;
    const [leastBuzz, mostBuzz] = is.buzz_db as [number, number];
    const [afterFrom, afterTo] = is.after_ms as [number, number];
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
      inside: this.rival((at) => at > open.at && at < close.at, weakerDb),
      after: this.rival((at) => at > close.at && within((at - close.at) / ms, [afterFrom, afterTo]), close.levelDb),
      before: this.rival((at) => within((at - open.at) / ms, is.before_ms), open.levelDb),
      release: this.clicks.some(({ at }) => within((at - open.at) / ms, is.release_ms)) ? 1 : 0,
      buzz: timeMs > is.buzz_from_ms ? orZero(clip(buzzDb - Math.max(beforeDb, afterDb), leastBuzz, mostBuzz)) / 10 : 0,
      unusual: this.markedS === null ? Math.abs(Math.log10(timeMs / 1000 / is.usual_s)) : 0,
      crowd: timeMs <= is.buzz_from_ms ? Math.min(this.count(({ at }) => at > open.at && at < close.at), is.crowd_most) / 2 : 0,
      noise_before: clip(beforeDb - signal.floorDb, 0, is.quiet_most_db) / 10,
      noise_after: clip(afterDb - signal.floorDb, 0, is.quiet_most_db) / 10,
      neighbours: Math.min(this.neighbours(open, close, weakerDb - is.neighbour_db), is.neighbour_most) / 3,
      last: this.clicks.some(({ at, levelDb }) => levelDb >= weakerDb - is.rival_db && (at - close.at) / ms > is.last_after_ms) ? 0 : 1,
      early: long ? this.rival((at) => within((at - open.at) / ms, is.early_ms), open.levelDb) : 0,
      gap: long ? orZero(clip(this.quietDb(open, is.gap_ms) - buzzDb, is.gap_least_db, 0)) / 10 : 0,
    };
  }

  private quietDb(click: Click, spanMs: Span): number {
    return meanDb(this.signal, click.at + spanMs[0]! * this.ms, click.at + spanMs[1]! * this.ms, this.signal.floorDb);
  }

  /** How close the strongest click at such a place comes to `ofDb`. */
  private rival(isThere: (at: number) => boolean, ofDb: number): number {
    let strongest = -Infinity;
    for (const { at, levelDb } of this.clicks) if (levelDb > strongest && isThere(at)) strongest = levelDb;
    return clip(strongest - ofDb + this.is.rival_db, 0, this.is.rival_most_db) / 10;
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
