// The clicks of a recording: where the energy jumps, placed to a sample, with the energy each one adds (steps 4-7).
//
// Placing uses the two-segment variance picker of acoustic emission (Maeda 1985).

import { meanEnergy, samplesOf, type Signal, type TimingConstants } from "./shutter_signal.ts";

/** Keeps the logarithm of a digitally silent stretch finite. */
const TINY_ENERGY = 1e-14;

export interface Click {
  /** Sample index. */
  readonly at: number;
  /** Energy after over energy before. */
  readonly jumpDb: number;
  /** Energy added, over the noise floor. */
  readonly levelDb: number;
}

/** All clicks of the recording in order of time, none closer than 0.3 ms to the one before. */
export function findClicks(signal: Signal, constants: TimingConstants): Click[] {
  const apart = samplesOf(signal.rateHz, constants.refine.apart_ms);
  const placed: { at: number; jumpDb: number }[] = [];
  for (const { at, jumpDb } of jumps(signal, constants)) {
    const refined = refine(signal, at, constants);
    const last = placed.at(-1);
    if (!last || refined - last.at >= apart) placed.push({ at: refined, jumpDb });
  }
  return placed.map(({ at, jumpDb }, index) => ({ at, jumpDb, levelDb: addedLevel(signal, at, placed[index + 1]?.at ?? null, constants) }));
}

/** The steepest rises of energy, on a coarse grid. */
function jumps(signal: Signal, constants: TimingConstants): { at: number; jumpDb: number }[] {
  const { rateHz, energySum, floor } = signal;
  const limits = constants.jump;
  const hop = samplesOf(rateHz, limits.hop_ms);
  const aheadLength = samplesOf(rateHz, limits.ahead_ms);
  const behindLength = samplesOf(rateHz, limits.behind_ms);
  const count = Math.max(0, Math.ceil((energySum.length - aheadLength - behindLength) / hop));
  const ratio = new Float64Array(count);
  const base = limits.floor_share * floor;
  for (let index = 0; index < count; index += 1) {
    const at = behindLength + index * hop;
    const ahead = (energySum[at + aheadLength]! - energySum[at]!) / aheadLength;
    const behind = (energySum[at]! - energySum[at - behindLength]!) / behindLength;
    ratio[index] = (ahead + base) / (behind + base);
  }
  const reach = Math.max(1, Math.floor(samplesOf(rateHz, limits.apart_ms) / hop));
  const leastRatio = 10 ** (limits.least_db / 10);
  const leastEnergy = floor * 10 ** (limits.over_floor_db / 10);
  const found: { at: number; jumpDb: number }[] = [];
  for (let index = 0; index < count; index += 1) {
    const at = behindLength + index * hop;
    if (ratio[index]! >= leastRatio && isSteepest(ratio, index, reach) && meanEnergy(signal, at, aheadLength) >= leastEnergy) {
      found.push({ at, jumpDb: 10 * Math.log10(ratio[index]!) });
    }
  }
  return found;
}

function isSteepest(ratio: Float64Array, index: number, reach: number): boolean {
  const last = Math.min(ratio.length - 1, index + reach);
  for (let other = Math.max(0, index - reach); other <= last; other += 1) {
    if (ratio[other]! > ratio[index]!) return false;
  }
  return true;
}

/** The position where one variance before and another after fit best (Akaike's criterion at its least). */
function refine(signal: Signal, point: number, constants: TimingConstants): number {
  const { rateHz, energySum } = signal;
  const limits = constants.refine;
  const search = samplesOf(rateHz, limits.search_ms);
  const first = Math.max(0, point - samplesOf(rateHz, limits.before_ms));
  const last = Math.min(energySum.length - 1, point + samplesOf(rateHz, limits.after_ms));
  let best = point;
  let least = Infinity;
  for (let split = Math.max(first + 1, point - search); split <= Math.min(last - 1, point + search); split += 1) {
    const quiet = (energySum[split]! - energySum[first]!) / (split - first);
    const loud = (energySum[last]! - energySum[split]!) / (last - split);
    const criterion = (split - first) * Math.log(quiet + TINY_ENERGY) + (last - split) * Math.log(loud + TINY_ENERGY);
    if (criterion < least) {
      least = criterion;
      best = split;
    }
  }
  return best;
}

/**
 * The energy a click adds, in dB over the floor.
 *
 * The look ahead stops before the next click: else a weak click just before a loud one inherits its level.
 */
function addedLevel(signal: Signal, at: number, next: number | null, constants: TimingConstants): number {
  const limits = constants.level;
  const samples = (ms: number) => samplesOf(signal.rateHz, ms);
  const window = samples(limits.window_ms);
  const behind = samples(limits.behind_ms);
  const stop = next === null ? signal.energySum.length - 1 : next - samples(limits.guard_ms);
  const last = Math.max(at, Math.min(at + samples(limits.span_ms), stop));
  let loudest = 0;
  for (let start = at; start <= last; start += 1) loudest = Math.max(loudest, meanEnergy(signal, start, window));
  const added = Math.max(loudest - meanEnergy(signal, at - behind, behind), limits.least_share * loudest);
  return 10 * Math.log10(Math.max(added, TINY_ENERGY) / signal.floor);
}
