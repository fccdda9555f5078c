// The open time that several firings of one recording agree on (step 15): three read together beat any single one.

import { median } from "./intervals.ts";
import { type Event, halfWidthS, narrowest, type Rival } from "./shutter_events.ts";
import type { Pair } from "./shutter_pairs.ts";
import type { TimingConstants } from "./shutter_signal.ts";

export interface CommonReading {
  /** The pair that each event is read as, in the order of the events; null for one that agrees with nothing. */
  readonly chosen: readonly (Pair | null)[];
  /** Median of the firings. */
  readonly openTimeS: number;
  /** Slowest over fastest. */
  readonly spreadStops: number;
  /** Of the posterior near the common value, 0..1. */
  readonly share: number;
  /** The 95 % interval. */
  readonly lowS: number;
  readonly highS: number;
}

// Beyond this many sigmas a pair adds less than rounding does.
const REACH_SIGMAS = 8;

/** What the firings agree on, or null if fewer than two have a reading near it; `pairs` are all of the recording. */
export function commonReading(pairs: readonly Pair[], events: readonly Event[], constants: TimingConstants): CommonReading | null {
  if (events.length < 2) return null;
  const { step_stops: step, share_stops: shareStops, repick_stops: repickStops, witness, hold } = constants.common;
  let [least, most] = [Infinity, -Infinity];
  for (const { openTimeS } of pairs) {
    least = Math.min(least, openTimeS);
    most = Math.max(most, openTimeS);
  }
  const lowest = Math.log2(least);
  const logPosterior = new Float64Array(Math.floor((Math.log2(most) - lowest) / step) + 1);
  const local = events.map((event) => overlapping(event, constants.event.overlap_s));
  for (const rivals of local) addLogLikelihood(logPosterior, lowest, rivals, constants);
  const highest = logPosterior.reduce((best, value) => Math.max(best, value), -Infinity);
  const peak = logPosterior.indexOf(highest);
  // Firings of one shutter err alike (the same loud release each time), so all of them together count as one witness, not as many.
  const weight = witness / events.length;
  const posterior = logPosterior.map((value) => Math.exp(weight * (value - highest)));
  const reach = Math.floor(shareStops / step + 0.5);
  let near = 0;
  let all = 0;
  posterior.forEach((p, index) => {
    all += p;
    if (Math.abs(index - peak) <= reach) near += p;
  });
  const chosen = local.map((rivals) => nearestLikely(rivals, lowest + step * peak, repickStops));
  // An event that cannot be read like the others was another noise.
  const agreeing = chosen.filter((pair) => pair !== null);
  if (agreeing.length < 2) return null;
  const times = agreeing.map((pair) => pair.openTimeS).sort((a, b) => a - b);
  const [first, last] = narrowest(Float64Array.from(posterior, (_, index) => lowest + step * index), posterior, peak, hold);
  const openTimeS = median(times);
  const half = halfWidthS(agreeing[0]!, constants);
  return {
    chosen,
    openTimeS,
    spreadStops: Math.log2(times.at(-1)! / times[0]!),
    share: near / all,
    lowS: Math.min(openTimeS - half, 2 ** (lowest + step * first)),
    highS: Math.max(openTimeS + half, 2 ** (lowest + step * last)),
  };
}

/** The readings that compete for the time of this firing alone, likeliest first, and their probabilities. */
function overlapping(event: Event, overlapS: number): Rival[] {
  const { openS, closeS } = event.best;
  const here = event.rivals
    .filter(({ pair }) => pair.openS <= closeS + overlapS && pair.closeS >= openS - overlapS)
    .map(({ pair }) => pair)
    .sort((a, b) => b.score - a.score);
  const highest = Math.max(here[0]!.score, 0);
  const odds = here.map(({ score }) => Math.exp(score - highest));
  const allOdds = odds.reduce((sum, value) => sum + value, 0) + Math.exp(-highest);
  return here.map((pair, index) => ({ pair, p: odds[index]! / allOdds }));
}

/** The likeliest pair of the firing within reach of the common value. */
function nearestLikely(rivals: readonly Rival[], log2Time: number, withinStops: number): Pair | null {
  return rivals.find(({ pair }) => Math.abs(Math.log2(pair.openTimeS) - log2Time) <= withinStops)?.pair ?? null;
}

function addLogLikelihood(logPosterior: Float64Array, lowest: number, rivals: readonly Rival[], constants: TimingConstants): void {
  const { step_stops: step, sigma_stops: sigma, floor, pairs } = constants.common;
  const likelihood = new Float64Array(logPosterior.length).fill(floor);
  const reach = Math.ceil((REACH_SIGMAS * sigma) / step);
  for (const { pair, p } of rivals.slice(0, pairs)) {
    const centre = (Math.log2(pair.openTimeS) - lowest) / step;
    const first = Math.max(0, Math.ceil(centre - reach));
    const last = Math.min(likelihood.length - 1, Math.floor(centre + reach));
    for (let index = first; index <= last; index += 1) {
      const off = ((index - centre) * step) / sigma;
      likelihood[index]! += p * Math.exp(-0.5 * off * off);
    }
  }
  for (let index = 0; index < likelihood.length; index += 1) logPosterior[index]! += Math.log(likelihood[index]!);
}
