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

/** Places of one or two features in their list (-1: no other), and the weight of their product. */
type Term = readonly [one: number, other: number, weight: number];

/** All pairs of the strongest clicks that are long and short enough, scored; `markedS` null = speed not known. */
export function findPairs(signal: Signal, clicks: readonly Click[], markedS: number | null, constants: TimingConstants): Pair[] {
  const strongest = strongestClicks(clicks, constants);
  const weights = markedS === null ? constants.weights.unmarked : constants.weights.marked;
  // By place, not by name: a phone does this for each of up to 780 pairs.
  let [short, long]: [Term[], Term[]] = [[], []];
  const longFromS = constants.features.long_ms / 1000;
  const look = new Look(signal, strongest, markedS, constants.features);
  const pairs: Pair[] = [];
  strongest.forEach((open, index) => {
    for (const close of strongest.slice(index + 1)) {
      const openTimeS = (close.at - open.at) / signal.rateHz;
      if (!isPossible(openTimeS, markedS, constants.pairs)) continue;
      const features = look.features(open, close);
      if (pairs.length === 0) [short, long] = [weights.short, weights.long].map((one) => terms(one, Object.keys(features))) as [Term[], Term[]];
      const values = Object.values(features);
      const score = openTimeS > longFromS ? weights.long.bias + weighed(values, long) : weights.short.bias + weighed(values, short);
      pairs.push({ open, close, openS: open.at / signal.rateHz, closeS: close.at / signal.rateHz, openTimeS, score });
    }
  });
  return pairs;
}

/** The weights taken apart: one named "one*other" is of the product of two features; `names`: of the features, in their order. */
function terms(weights: Weights, names: readonly string[]): Term[] {
  return Object.entries(weights)
    .filter(([name]) => name !== "bias")
    .map(([name, weight]) => {
      const [one, other] = name.split("*");
      return [names.indexOf(one!), other === undefined ? -1 : names.indexOf(other), weight] as const;
    });
}

function weighed(values: readonly number[], of: readonly Term[]): number {
  let total = 0;
  for (const [one, other, weight] of of) total += weight * values[one]! * (other < 0 ? 1 : values[other]!);
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

  /** The features of a pair; one that cannot be told is 0. */
  features(open: Click, close: Click): Record<string, number> {
    const { is, ms, signal, markedS } = this;
    const timeMs = (close.at - open.at) / ms;
    const offStops = markedS === null ? 0 : Math.log2(timeMs / 1000 / markedS);
    const before = this.before.get(open)!;
    const after = this.after.get(close)!;
    const around = this.around(open, close);
    const inset = is.buzz_inset_ms * ms;
    const buzzDb = meanDb(signal, open.at + inset, close.at - inset, NaN);
    const [leastBuzz, mostBuzz] = is.buzz_db as [number, number];
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
      near_mark: markedS === null ? 0 : clip(1 - Math.abs(offStops) / is.near_stops, 0, 1),
      top_speed: markedS !== null && markedS < is.top_speed_s ? clip(offStops, -1, 1) : 0,
      inside: this.rival(around.insideDb, Math.min(open.levelDb, close.levelDb)),
      after: this.rival(after.strongestDb, close.levelDb),
      before: this.rival(before.strongestDb, open.levelDb),
      release: before.release ? 1 : 0,
      release_level: this.company(before.strongestDb, open.levelDb),
      rebound: this.company(around.reboundDb, open.levelDb),
      bounces: this.company(after.strongestDb, close.levelDb),
      follows: this.company(around.followsDb, open.levelDb),
      buzz: timeMs > is.buzz_from_ms ? orZero(clip(buzzDb - Math.max(before.quietDb, after.quietDb), leastBuzz, mostBuzz)) / 10 : 0,
      unusual: Math.abs(Math.log10(timeMs / 1000 / is.usual_s)),
      crowd: Math.min(around.between, is.crowd_most) / 2,
      noise_before: clip(before.quietDb - signal.floorDb, 0, is.quiet_most_db) / 10,
      noise_after: clip(after.quietDb - signal.floorDb, 0, is.quiet_most_db) / 10,
      neighbours: Math.min(around.neighbours, is.neighbour_most) / 3,
      busy: Math.min(around.busy, is.busy_most) / 5,
      last: around.isLast ? 1 : 0,
      early: this.rival(around.earlyDb, open.levelDb),
      lively: Math.min(this.lively, is.lively_most) * 10,
      fall: after.fallDb / 10,
      fall_open: timeMs > is.long_ms ? before.fallDb / 10 : 0,
      gap: orZero(clip(this.quietDb(open, is.gap_ms) - buzzDb, is.gap_least_db, 0)) / 10,
    };
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
