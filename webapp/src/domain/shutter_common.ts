// The open time that several firings of one recording agree on (step 15): three read together beat any single one.

import type { Event } from "./shutter_events.ts";
import type { Pair } from "./shutter_pairs.ts";
import type { TimingConstants } from "./shutter_signal.ts";

export interface CommonReading {
  /** The pair that each firing is read as, in the order of the events. */
  readonly chosen: readonly Pair[];
  /** Median of the firings. */
  readonly openTimeS: number;
  /** Slowest over fastest. */
  readonly spreadStops: number;
  /** Of the posterior near the common value, 0..1. */
  readonly share: number;
}

// Beyond this many sigmas a pair adds less than rounding does.
const REACH_SIGMAS = 8;

/** What the firings agree on, or null if there are fewer than two or one of them has no reading near it. */
export function commonReading(events: readonly Event[], constants: TimingConstants): CommonReading | null {
  if (events.length < 2) return null;
  const { step_stops: step, share_stops: shareStops, repick_stops: repickStops } = constants.common;
  const lowest = Math.log2(constants.pairs.least_s);
  const count = Math.floor((Math.log2(constants.pairs.most_s) - lowest) / step) + 1;
  const logPosterior = new Float64Array(count);
  for (const event of events) addLogLikelihood(logPosterior, lowest, event, constants);
  const highest = logPosterior.reduce((best, value) => Math.max(best, value), -Infinity);
  const peak = logPosterior.indexOf(highest);
  const reach = Math.floor(shareStops / step + 0.5);
  let near = 0;
  let all = 0;
  logPosterior.forEach((value, index) => {
    const p = Math.exp(value - highest);
    all += p;
    if (Math.abs(index - peak) <= reach) near += p;
  });
  const chosen: Pair[] = [];
  for (const event of events) {
    const fits = event.rivals.find(({ pair }) => Math.abs(Math.log2(pair.openTimeS) - (lowest + step * peak)) <= repickStops);
    if (!fits) return null;
    chosen.push(fits.pair);
  }
  const times = chosen.map((pair) => pair.openTimeS).sort((a, b) => a - b);
  return { chosen, openTimeS: median(times), spreadStops: Math.log2(times.at(-1)! / times[0]!), share: near / all };
}

function addLogLikelihood(logPosterior: Float64Array, lowest: number, event: Event, constants: TimingConstants): void {
  const { step_stops: step, sigma_stops: sigma, floor, pairs } = constants.common;
  const likelihood = new Float64Array(logPosterior.length).fill(floor);
  const reach = Math.ceil((REACH_SIGMAS * sigma) / step);
  for (const { pair, p } of event.rivals.slice(0, pairs)) {
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

function median(sorted: readonly number[]): number {
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
