// Cuts a recording to its firings before anything is kept: what was said before and after is nobody's business.
import type { Measurement } from "../../domain/shutter_timing.ts";

/** Kept on either side of the firings, seconds. */
export const ROOM_S = 0.6;
/** Kept of a recording in which nothing was found, seconds: the loudest stretch. */
export const LOUDEST_S = 6;

export function trim(samples: Float32Array, rateHz: number, found: Pick<Measurement, "firings">): Float32Array {
  const { firings } = found;
  if (firings.length > 0) {
    const from = Math.min(...firings.map((one) => one.open_s)) - ROOM_S;
    const to = Math.max(...firings.map((one) => one.close_s)) + ROOM_S;
    return samples.slice(Math.max(0, Math.floor(from * rateHz)), Math.min(samples.length, Math.ceil(to * rateHz)));
  }
  const length = Math.round(LOUDEST_S * rateHz);
  if (samples.length <= length) return samples;
  let energy = 0;
  for (let i = 0; i < length; i += 1) energy += samples[i]! ** 2;
  let [best, at] = [energy, 0];
  for (let i = length; i < samples.length; i += 1) {
    energy += samples[i]! ** 2 - samples[i - length]! ** 2;
    if (energy > best) [best, at] = [energy, i - length + 1];
  }
  return samples.slice(at, at + length);
}
