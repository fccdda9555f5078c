// The recording made ready for finding clicks: high-passed energy, its running sums, the noise floor (steps 1-3).
//
// Constants are the `shutter_timing` data of the catalogue; its times hold at any sample rate.

import type timingData from "@catalogue/shutter_timing.json";

/** The catalogue's `shutter_timing`. */
export type TimingConstants = typeof timingData;

export const LEAST_RATE_HZ = 8000;

/** High-passed energy of a recording; positions are sample indices. */
export interface Signal {
  readonly rateHz: number;
  /** energySum[b] - energySum[a] = energy of samples a..b-1 */
  readonly energySum: Float64Array;
  /** Mean energy of the quiet parts. */
  readonly floor: number;
  readonly floorDb: number;
  /** Samples in a frame of `frameDbSum`. */
  readonly frame: number;
  /** Running sum of frame energies in dB. */
  readonly frameDbSum: Float64Array;
}

/** A time as a whole number of samples, at least one. */
export function samplesOf(rateHz: number, ms: number): number {
  return Math.max(1, roundHalfUp((ms * rateHz) / 1000));
}

/** Mean energy of `length` samples from `start`, cut at the ends of the recording. */
export function meanEnergy(signal: Signal, start: number, length: number): number {
  const { energySum } = signal;
  const end = energySum.length - 1;
  const first = Math.min(Math.max(start, 0), end);
  const last = Math.min(Math.max(start + length, 0), end);
  return (energySum[last]! - energySum[first]!) / length;
}

/** Mean frame energy in dB between two sample positions; `without` where there is no whole frame. */
export function meanDb(signal: Signal, start: number, end: number, without: number): number {
  const { frameDbSum, frame } = signal;
  const most = frameDbSum.length - 1;
  const first = Math.min(Math.max(Math.floor(start / frame), 0), most);
  const last = Math.min(Math.max(Math.floor(end / frame), 0), most);
  return last > first ? (frameDbSum[last]! - frameDbSum[first]!) / (last - first) : without;
}

/** "too_quiet", "clipped" or null, before anything is looked for. `samples` are full scale -1..1. */
export function whyUnusable(samples: Float32Array, constants: TimingConstants): "too_quiet" | "clipped" | null {
  const limits = constants.prepare;
  // Plain counting loops: over typed arrays they run several times as fast as `for of`, and a phone waits for this.
  const mean = meanOf(samples);
  let low = Infinity;
  let high = -Infinity;
  for (let index = 0; index < samples.length; index += 1) {
    const sample = samples[index]!;
    if (sample < low) low = sample;
    if (sample > high) high = sample;
  }
  if (!(Math.max(high - mean, mean - low) >= limits.least_peak)) return "too_quiet";
  const peak = Math.max(high, -low);
  if (peak <= limits.clip_from) return null;
  const nearPeak = peak * (1 - limits.clip_near);
  let atPeak = 0;
  for (let index = 0; index < samples.length; index += 1) if (Math.abs(samples[index]!) >= nearPeak) atPeak += 1;
  return atPeak / samples.length > limits.clip_share ? "clipped" : null;
}

/** [b, a] of the second-order high-pass (bilinear transform, cutoff pre-warped); with q = 1/sqrt(2) it is Butterworth's. */
export function highpassCoefficients(cutoffHz: number, q: number, rateHz: number): [number[], number[]] {
  const warped = Math.tan((Math.PI * cutoffHz) / rateHz);
  const scale = 1 / (1 + warped / q + warped * warped);
  return [
    [scale, -2 * scale, scale],
    [1, 2 * (warped * warped - 1) * scale, (1 - warped / q + warped * warped) * scale],
  ];
}

/** The signal of a recording. `samples` mono, full scale -1..1. Throws RangeError below 8000 samples a second. */
export function prepare(samples: Float32Array, rateHz: number, constants: TimingConstants): Signal {
  if (!(rateHz >= LEAST_RATE_HZ)) throw new RangeError(`the recording has only ${rateHz} samples a second; at least ${LEAST_RATE_HZ} are needed`);
  const energySum = highpassedEnergySum(samples, rateHz, constants);
  const floorIs = constants.floor;
  const longFrames = frameEnergies(energySum, roundHalfUp((floorIs.frame_ms * rateHz) / 1000));
  const floor = Math.max(longFrames.length > 0 ? percentile(longFrames, floorIs.percentile) : 0, floorIs.least);
  const frame = roundHalfUp((constants.span_frame_ms * rateHz) / 1000);
  const frames = frameEnergies(energySum, frame);
  const frameDbSum = new Float64Array(frames.length + 1);
  for (let index = 0; index < frames.length; index += 1) {
    frameDbSum[index + 1] = frameDbSum[index]! + 10 * Math.log10(Math.max(frames[index]!, floorIs.least));
  }
  return { rateHz, energySum, floor, floorDb: 10 * Math.log10(floor), frame, frameDbSum };
}

function highpassedEnergySum(samples: Float32Array, rateHz: number, constants: TimingConstants): Float64Array {
  const [b, a] = highpassCoefficients(constants.highpass.hz, constants.highpass.q, rateHz) as [[number, number, number], [number, number, number]];
  const [b0, b1, b2] = b;
  const [, a1, a2] = a;
  const mean = meanOf(samples);
  const energySum = new Float64Array(samples.length + 1);
  let first = 0;
  let second = 0;
  let sum = 0;
  for (let index = 0; index < samples.length; index += 1) {
    const value = samples[index]! - mean;
    const passed = b0 * value + first;
    first = b1 * value - a1 * passed + second;
    second = b2 * value - a2 * passed;
    sum += passed * passed;
    energySum[index + 1] = sum;
  }
  return energySum;
}

/** Mean energy of each whole frame of `length` samples. */
function frameEnergies(energySum: Float64Array, length: number): Float64Array {
  const count = Math.floor((energySum.length - 1) / length);
  const frames = new Float64Array(count);
  for (let index = 0; index < count; index += 1) {
    frames[index] = (energySum[(index + 1) * length]! - energySum[index * length]!) / length;
  }
  return frames;
}

/** The percentile (0..100) by linear interpolation between the sorted values. */
export function percentile(values: Float64Array, percent: number): number {
  const sorted = values.slice().sort();
  const place = (percent / 100) * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below]! + (sorted[above]! - sorted[below]!) * (place - below);
}

/** The nearest whole number, halves up: the same on phone and server. */
export function roundHalfUp(value: number): number {
  return Math.floor(value + 0.5);
}

function meanOf(samples: Float32Array): number {
  let sum = 0;
  for (let index = 0; index < samples.length; index += 1) sum += samples[index]!;
  return samples.length > 0 ? sum / samples.length : 0;
}
