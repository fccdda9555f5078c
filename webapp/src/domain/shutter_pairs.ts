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

// A list and not an object: a phone works these out for each of up to 780 pairs, twice.
const FEATURES = [
  "level_open", "level_close", "below_loudest_open", "below_loudest_close", "balance", "jump_open", "jump_close",
  "slow", "fast", "near_mark", "top_speed", "inside", "after", "before", "release", "release_level", "rebound",
  "bounces", "follows", "buzz", "unusual", "crowd", "noise_before", "noise_after", "neighbours", "busy", "last",
  "early", "lively", "fall", "fall_open", "gap",
];

/** Places of one or two features (-1: no other) and the weight of their product, term by term. */
interface Terms {
  readonly bias: number;
  readonly one: Int32Array;
  readonly other: Int32Array;
  readonly weight: Float64Array;
}

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
      const score = weighed(look.features(open, close), openTimeS > longFromS ? long : short);
      pairs.push({ open, close, openS: open.at / signal.rateHz, closeS: close.at / signal.rateHz, openTimeS, score });
    }
  });
  return pairs;
}

/** The weights taken apart: one named "one*other" is of the product of two features. */
function terms(weights: Weights): Terms {
  const named = Object.entries(weights).filter(([name]) => name !== "bias");
  const place = (index: number) => Int32Array.from(named, ([name]) => FEATURES.indexOf(name.split("*")[index] ?? ""));
  return { bias: weights.bias, one: place(0), other: place(1), weight: Float64Array.from(named, ([, weight]) => weight) };
}

function weighed(values: readonly number[], { bias, one, other, weight }: Terms): number {
  let total = bias;
  for (let term = 0; term < weight.length; term += 1) {
    const place = other[term]!;
    total += weight[term]! * values[one[term]!]! * (place < 0 ? 1 : values[place]!);
  }
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

/** What a click meets on one side, whatever it is paired with: worked out once, for a phone waits for this. */
interface Side {
  /** Mean level a little away from it. */
  readonly quietDb: number;
  /** The strongest click near it. */
  readonly strongestDb: number;
  /** How far its own sound has fallen a little later. */
  readonly fallDb: number;
}

/** Looks at a pair among all strong clicks of one recording. */
class Look {
  private readonly loudestDb: number;
  private readonly lively: number;
  private readonly ms: number;
  private readonly before = new Map<Click, Side & { readonly release: boolean }>();
  private readonly after = new Map<Click, Side>();

  constructor(
    private readonly signal: Signal,
    private readonly clicks: readonly Click[],
    private readonly markedS: number | null,
    private readonly is: TimingConstants["features"],
  ) {
    this.loudestDb = Math.max(...clicks.map((click) => click.levelDb));
    this.ms = signal.rateHz / 1000;
    this.lively = this.share(signal.floorDb + this.loudestDb - is.lively_db);
    for (const click of clicks) {
      const since = (at: number) => (at - click.at) / this.ms;
      this.before.set(click, {
        quietDb: this.quietDb(click, is.quiet_before_ms),
        strongestDb: this.strongest((at) => within(since(at), is.before_ms)),
        release: clicks.some(({ at }) => within(since(at), is.release_ms)),
        fallDb: this.fallDb(click),
      });
      this.after.set(click, {
        quietDb: this.quietDb(click, is.quiet_after_ms),
        strongestDb: this.strongest((at) => at > click.at && within(since(at), is.after_ms)),
        fallDb: this.fallDb(click),
      });
    }
  }

  /** The features of a pair in the order of FEATURES; one that cannot be told is 0. */
  features(open: Click, close: Click): number[] {
    const { is, ms, signal, markedS } = this;
    const timeMs = (close.at - open.at) / ms;
    const offStops = markedS === null ? 0 : Math.log2(timeMs / 1000 / markedS);
    const before = this.before.get(open)!;
    const after = this.after.get(close)!;
    const around = this.around(open, close);
    const inset = is.buzz_inset_ms * ms;
    const buzzDb = meanDb(signal, open.at + inset, close.at - inset, NaN);
    const [leastBuzz, mostBuzz] = is.buzz_db as [number, number];
    return [
      Math.min(open.levelDb, is.level_most_db) / 10, // level_open
      Math.min(close.levelDb, is.level_most_db) / 10, // level_close
      (open.levelDb - this.loudestDb) / 10, // below_loudest_open
      (close.levelDb - this.loudestDb) / 10, // below_loudest_close
      Math.min(Math.abs(close.levelDb - open.levelDb - is.balance_db), is.rival_most_db) / 10, // balance
      Math.min(open.jumpDb, is.jump_most_db) / 10, // jump_open
      Math.min(close.jumpDb, is.jump_most_db) / 10, // jump_close
      clip(offStops, 0, 2), // slow
      clip(-offStops, 0, 2), // fast
      markedS === null ? 0 : clip(1 - Math.abs(offStops) / is.near_stops, 0, 1), // near_mark
      markedS !== null && markedS < is.top_speed_s ? clip(offStops, -1, 1) : 0, // top_speed
      this.rival(around.insideDb, Math.min(open.levelDb, close.levelDb)), // inside
      this.rival(after.strongestDb, close.levelDb), // after
      this.rival(before.strongestDb, open.levelDb), // before
      before.release ? 1 : 0, // release
      this.company(before.strongestDb, open.levelDb), // release_level
      this.company(around.reboundDb, open.levelDb), // rebound
      this.company(after.strongestDb, close.levelDb), // bounces
      this.company(around.followsDb, open.levelDb), // follows
      timeMs > is.buzz_from_ms ? orZero(clip(buzzDb - Math.max(before.quietDb, after.quietDb), leastBuzz, mostBuzz)) / 10 : 0, // buzz
      Math.abs(Math.log10(timeMs / 1000 / is.usual_s)), // unusual
      Math.min(around.between, is.crowd_most) / 2, // crowd
      clip(before.quietDb - signal.floorDb, 0, is.quiet_most_db) / 10, // noise_before
      clip(after.quietDb - signal.floorDb, 0, is.quiet_most_db) / 10, // noise_after
      Math.min(around.neighbours, is.neighbour_most) / 3, // neighbours
      Math.min(around.busy, is.busy_most) / 5, // busy
      around.isLast ? 1 : 0, // last
      this.rival(around.earlyDb, open.levelDb), // early
      Math.min(this.lively, is.lively_most) * 10, // lively
      after.fallDb / 10, // fall
      timeMs > is.long_ms ? before.fallDb / 10 : 0, // fall_open
      orZero(clip(this.quietDb(open, is.gap_ms) - buzzDb, is.gap_least_db, 0)) / 10, // gap
    ];
  }

  /** One look at all other clicks: the strongest at each place between, and how many are as loud outside. */
  private around(open: Click, close: Click) {
    const { is, ms } = this;
    const weakerDb = Math.min(open.levelDb, close.levelDb);
    let [insideDb, reboundDb, followsDb, earlyDb] = [-Infinity, -Infinity, -Infinity, -Infinity];
    let [between, neighbours, busy] = [0, 0, 0];
    let isLast = true;
    for (const { at, levelDb } of this.clicks) {
      const sinceOpen = (at - open.at) / ms;
      const sinceClose = (at - close.at) / ms;
      if (at > open.at && at < close.at) {
        between += 1;
        if (levelDb > insideDb) insideDb = levelDb;
        if (levelDb > reboundDb && within(sinceOpen, is.rebound_ms)) reboundDb = levelDb;
        if (levelDb > earlyDb && within(sinceOpen, is.early_ms)) earlyDb = levelDb;
        if (levelDb > followsDb && within(sinceOpen, is.follows_ms) && sinceClose < -FOLLOWS_BEFORE_MS) followsDb = levelDb;
      }
      if (levelDb >= weakerDb - is.neighbour_db && (within(sinceOpen, is.neighbour_before_ms) || within(sinceClose, is.neighbour_after_ms))) neighbours += 1;
      if (levelDb >= weakerDb - is.busy_db && (sinceOpen < is.before_ms[0]! || sinceClose > is.after_ms[1]!)) busy += 1;
      if (levelDb >= weakerDb - is.rival_db && sinceClose > is.last_after_ms) isLast = false;
    }
    return { insideDb, reboundDb, followsDb, earlyDb, between, neighbours, busy, isLast };
  }

  private quietDb(click: Click, spanMs: Span): number {
    return meanDb(this.signal, click.at + spanMs[0]! * this.ms, click.at + spanMs[1]! * this.ms, this.signal.floorDb);
  }

  private fallDb(click: Click): number {
    return clip(this.quietDb(click, this.is.struck_ms) - this.quietDb(click, this.is.fallen_ms), 0, this.is.fall_most_db);
  }

  /** How much of the recording is louder; of a short one, as if the rest were quiet, for it may have been cut to the firing. */
  private share(thanDb: number): number {
    const { frameDbSum, frame, rateHz } = this.signal;
    let louder = 0;
    for (let index = 1; index < frameDbSum.length; index += 1) if (frameDbSum[index]! - frameDbSum[index - 1]! > thanDb) louder += 1;
    return louder / Math.max(frameDbSum.length - 1, (this.is.lively_least_s * rateHz) / frame);
  }

  private strongest(isThere: (at: number) => boolean): number {
    let strongest = -Infinity;
    for (const { at, levelDb } of this.clicks) if (levelDb > strongest && isThere(at)) strongest = levelDb;
    return strongest;
  }

  /** How close a click comes to `ofDb`. */
  private rival(clickDb: number, ofDb: number): number {
    return clip(clickDb - ofDb + this.is.rival_db, 0, this.is.rival_most_db) / 10;
  }

  /** The same for the weaker company that a click keeps: a release before it, bounces after it. */
  private company(clickDb: number, ofDb: number): number {
    return clip(clickDb - ofDb + this.is.company_db, 0, this.is.company_db) / 10;
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
