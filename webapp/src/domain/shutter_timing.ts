// Open times of a leaf shutter from a recording of its sound: the whole way from samples to firings and verdict.
//
// The figure is the interval from click to click: the end of opening to the end of closing, as is assumed of the two loud
// clicks. It is about the light-weighted time near one stop down; figures and limits come from simulated sound.

import { standsAlone } from "./shutter_alone.ts";
import { type Buzz, buzzOf } from "./shutter_buzz.ts";
import { type Click, findClicks } from "./shutter_candidates.ts";
import { commonReading, type CommonReading } from "./shutter_common.ts";
import { findEvents, limitsS, type Event, type Verdict, verdictOf } from "./shutter_events.ts";
import { findPairs, type Pair } from "./shutter_pairs.ts";
import { prepare, type Signal, type TimingConstants, whyUnusable } from "./shutter_signal.ts";

/** One firing; times in seconds from the start of the recording, limits are 95 %. */
export interface Firing {
  readonly open_s: number;
  readonly close_s: number;
  readonly open_time_s: number;
  readonly low_s: number;
  readonly high_s: number;
  readonly verdict: Verdict;
  /** Id of the reason, null if clear. */
  readonly reason: string | null;
  /** The next likeliest open time, if one may be meant instead. */
  readonly other_s: number | null;
}

/** A firing whose marks a person set; the times are null where no shutter has such an open time. */
export interface MarkedFiring extends Omit<Firing, "open_time_s" | "low_s" | "high_s"> {
  readonly open_time_s: number | null;
  readonly low_s: number | null;
  readonly high_s: number | null;
  readonly moved: true;
}

const NOT_ALONE = { verdict: "doubtful", reason: "not_alone" } as const;
/** Reasons that leave it open whether a shutter was fired at all. */
const NO_SHUTTER: readonly string[] = ["may_not_be_a_shutter", "not_alone"];

/** What a recording says. The same JSON comes from the server. */
export interface Measurement {
  readonly verdict: Verdict;
  readonly reason: string | null;
  readonly marked_s: number | null;
  readonly open_time_s: number | null;
  readonly low_s: number | null;
  readonly high_s: number | null;
  readonly other_s: number | null;
  /** In order of time. */
  readonly firings: readonly Firing[];
  /** What several firings agree on: `share` is of the posterior near it, 0..1. */
  readonly common: { readonly open_time_s: number; readonly spread_stops: number; readonly share: number } | null;
  /** Whether the gear train sounds uneven; null where no train can be judged. */
  readonly buzz: Buzz | null;
  /** All clicks, for a mark that is moved to snap to. */
  readonly clicks_s: readonly number[];
  /** Which interval the figure is. */
  readonly interval: string;
  readonly algorithm: string;
}

/**
 * The firings of a recording.
 *
 * `samples`: mono, full scale -1..1; `markedS`: the marked speed in seconds, null if not known; `constants`: the
 * catalogue's `shutter_timing`. Throws RangeError below 8000 samples a second.
 */
export function measure(samples: Float32Array, rateHz: number, markedS: number | null, constants: TimingConstants): Measurement {
  return measureBoth(samples, rateHz, markedS, constants).marked;
}

/** What `measure` returns for the marked speed, and what it returns without one, heard once. Throws RangeError as `measure` does. */
export function measureBoth(samples: Float32Array, rateHz: number, markedS: number | null, constants: TimingConstants): { marked: Measurement; unmarked: Measurement } {
  const reason = whyUnusable(samples, constants);
  if (reason) return { marked: unusable(reason, markedS, constants, []), unmarked: unusable(reason, null, constants, []) };
  const signal = prepare(samples, rateHz, constants);
  const clicks = findClicks(signal, constants);
  const unmarked = read(signal, clicks, null, constants);
  return { marked: markedS === null ? unmarked : doubted(read(signal, clicks, markedS, constants), unmarked, constants), unmarked };
}

function read(signal: Signal, clicks: readonly Click[], markedS: number | null, constants: TimingConstants): Measurement {
  const clicksS = clicks.map((click) => click.at / signal.rateHz);
  const pairs = findPairs(signal, clicks, markedS, constants);
  const events = findEvents(pairs, constants);
  if (!events[0] || events[0].noneP > constants.verdict.none_unusable) {
    return unusable(clicks.length < 2 ? "one_click_alone" : "no_pair_stands_out", markedS, constants, clicksS);
  }
  const common = commonReading(pairs, events, constants);
  const alone = standsAlone(signal, clicks, events, constants.alone);
  const firings = events.flatMap((event, index) => {
    const answer = common ? common.chosen[index] : event.best;
    if (!answer) return [];
    const one = firing(event, answer, constants);
    return [one.verdict === "clear" && !alone ? { ...one, ...NOT_ALONE } : one];
  });
  const { lead, verdict, reason } = leading(firings, common, alone, constants);
  return {
    verdict,
    reason,
    marked_s: markedS,
    open_time_s: common ? common.openTimeS : lead.open_time_s,
    low_s: common ? common.lowS : lead.low_s,
    high_s: common ? common.highS : lead.high_s,
    other_s: verdict === "clear" ? null : lead.other_s,
    firings: firings.sort((a, b) => a.open_s - b.open_s),
    common: common && { open_time_s: common.openTimeS, spread_stops: common.spreadStops, share: common.share },
    buzz: reason !== null && NO_SHUTTER.includes(reason) ? null : buzzOf(signal, clicks, firings, lead, constants.buzz),
    clicks_s: clicksS,
    interval: constants.interval_meaning,
    algorithm: constants.algorithm,
  };
}

/** The result, doubted where the sound by itself clearly says another time: the mark must not hide a shutter far off. */
function doubted(result: Measurement, unmarked: Measurement, constants: TimingConstants): Measurement {
  if (unmarked.verdict !== "clear") return result;
  const doubt = { verdict: "doubtful", reason: "far_from_mark" } as const;
  if (result.open_time_s === null || result.reason === "may_not_be_a_shutter") return { ...unmarked, marked_s: result.marked_s, ...doubt };
  const apartStops = Math.abs(Math.log2(unmarked.open_time_s! / result.open_time_s));
  if (apartStops <= constants.verdict.clear_stops) return result;
  return { ...result, ...doubt, other_s: unmarked.open_time_s };
}

/** The reading between two marks that a person set, in the shape of a firing; placing by eye is taken as a weak click's. */
export function measureMarks(openS: number, closeS: number, constants: TimingConstants): MarkedFiring {
  const timeS = closeS - openS;
  const limits = constants.interval;
  const halfMs = Math.hypot(limits.weak_onset_ms, limits.weak_onset_ms, limits.impact_ms) + limits.clock_ppm * 1e-3 * timeS;
  const fits = timeS >= constants.pairs.least_s && timeS <= constants.pairs.most_s;
  return {
    open_s: openS,
    close_s: closeS,
    open_time_s: fits ? timeS : null,
    low_s: fits ? timeS - halfMs / 1000 : null,
    high_s: fits ? timeS + halfMs / 1000 : null,
    verdict: fits ? "clear" : "unusable",
    reason: fits ? null : "marks_do_not_fit",
    other_s: null,
    moved: true,
  };
}

interface Leading {
  readonly lead: Firing;
  readonly verdict: Verdict;
  readonly reason: string | null;
}

/**
 * The firing that stands for all, and the verdict of the whole: firings that agree are clear together.
 *
 * Only if the likeliest sounds like a shutter at all and they stand alone: a motor agrees with itself too.
 */
function leading(firings: readonly Firing[], common: CommonReading | null, alone: boolean, constants: TimingConstants): Leading {
  const likeliest = firings[0]!;
  if (likeliest.reason !== null && NO_SHUTTER.includes(likeliest.reason)) return { lead: likeliest, verdict: "doubtful", reason: likeliest.reason };
  if (!common || common.share < constants.common.clear_share) {
    // One that is clear by itself is not, where the others do not bear it out.
    if (common && likeliest.verdict === "clear") return { lead: likeliest, verdict: "doubtful", reason: "other_readings_fit" };
    return { lead: likeliest, verdict: likeliest.verdict, reason: likeliest.reason };
  }
  const off = (one: Firing) => Math.abs(one.open_time_s - common.openTimeS);
  const lead = firings.reduce((best, one) => (off(one) < off(best) ? one : best));
  const wide = Math.log2(common.highS / common.lowS) / 2 > constants.verdict.clear_stops;
  if (wide) return { lead, verdict: "doubtful", reason: "interval_too_wide" };
  return alone ? { lead, verdict: "clear", reason: null } : { lead, ...NOT_ALONE };
}

function firing(event: Event, answer: Pair, constants: TimingConstants): Firing {
  const [low_s, high_s] = limitsS(event, answer, constants);
  const [verdict, reason] = verdictOf(event, answer, low_s, high_s, constants);
  return {
    open_s: answer.openS,
    close_s: answer.closeS,
    open_time_s: answer.openTimeS,
    low_s,
    high_s,
    verdict,
    reason,
    other_s: verdict === "clear" ? null : (event.groups[1]?.[0]?.pair.openTimeS ?? null),
  };
}

function unusable(reason: string, markedS: number | null, constants: TimingConstants, clicksS: readonly number[]): Measurement {
  return {
    verdict: "unusable",
    reason,
    marked_s: markedS,
    open_time_s: null,
    low_s: null,
    high_s: null,
    other_s: null,
    firings: [],
    common: null,
    buzz: null,
    clicks_s: clicksS,
    interval: constants.interval_meaning,
    algorithm: constants.algorithm,
  };
}
