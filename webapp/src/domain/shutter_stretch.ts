// Where in a long recording the firings are: a coarse outline of its clicks, made in one pass, and the stretches worth measuring.
//
// Constants are `stretch` of the catalogue's `shutter_timing`: own, common practice of onset finding, no source.

import type { Measurement } from "./shutter_timing.ts";

export interface StretchLimits {
  readonly frame_ms: number;
  readonly behind_frames: number;
  readonly rise_db: number;
  readonly below_loudest_db: number;
  readonly gap_s: number;
  readonly beside_s: number;
  readonly longest_s: number;
  readonly most: number;
}

export interface Stretch { readonly from_s: number; readonly to_s: number }

/** Level of digital silence, mean square of full scale. */
const LEAST_ENERGY = 1e-12;
const VERDICTS = ["unusable", "doubtful", "clear"];

/**
 * The level of clicks, frame by frame, whatever the length of the recording: one small whole number a frame.
 *
 * The difference of neighbouring samples lets clicks stand out of hum and voices. Levels are in tenths of a decibel: whole
 * numbers, so that phone and server choose alike.
 */
export class ClickOutline {
  readonly frame: number;
  readonly frameS: number;
  readonly #levels: number[] = [];
  #before: number[] | null = null;
  #energy: number[] = [];
  #filled = 0;

  constructor(rateHz: number, limits: StretchLimits) {
    this.frame = Math.max(1, Math.floor((rateHz * limits.frame_ms) / 1000 + 0.5));
    this.frameS = this.frame / rateHz;
  }

  /** Takes the next block, one array a channel, full scale -1..1. A click counts in any channel. */
  add(channels: readonly Float32Array[]): void {
    this.#before ??= channels.map((samples) => samples[0] ?? 0);
    if (this.#energy.length === 0) this.#energy = channels.map(() => 0);
    const frames = channels[0]?.length ?? 0;
    for (let at = 0; at < frames; ) {
      const end = Math.min(frames, at + this.frame - this.#filled);
      channels.forEach((samples, channel) => { this.#sum(samples, at, end, channel); });
      this.#filled += end - at;
      if (this.#filled === this.frame) this.#close();
      at = end;
    }
  }

  /** The levels so far; what is less than a frame at the end is left out. */
  levels(): Int16Array {
    return Int16Array.from(this.#levels);
  }

  #sum(samples: Float32Array, from: number, to: number, channel: number): void {
    let before = this.#before![channel]!;
    let energy = this.#energy[channel]!;
    for (let index = from; index < to; index += 1) {
      const sample = samples[index]!;
      energy += (sample - before) ** 2;
      before = sample;
    }
    this.#before![channel] = before;
    this.#energy[channel] = energy;
  }

  #close(): void {
    const most = Math.max(...this.#energy) / this.frame;
    this.#levels.push(Math.floor(100 * Math.log10(most + LEAST_ENERGY) + 0.5));
    this.#energy.fill(0);
    this.#filled = 0;
  }
}

/**
 * The stretches worth measuring, that with the loudest click first; at least one in any sound.
 *
 * Round the loudest click that is still free gather those not much softer, as long as the gaps between them are short.
 */
export function stretches(levels: ArrayLike<number>, frameS: number, limits: StretchLimits): Stretch[] {
  if (levels.length === 0) return [];
  const loudestOf = (frames: readonly number[]) => frames.reduce((best, one) => (levels[one]! > levels[best]! ? one : best));
  let free = onsets(levels, limits);
  if (free.length === 0) free = [loudestOf(Array.from(levels, (_, index) => index))];
  const found: Stretch[] = [];
  while (free.length > 0 && found.length < limits.most) {
    const loudest = loudestOf(free);
    const near = free.filter((one) => levels[one]! >= levels[loudest]! - 10 * limits.below_loudest_db);
    const [first, last] = gathered(near, near.indexOf(loudest), frameS, limits);
    found.push({
      from_s: Math.max(0, first * frameS - limits.beside_s),
      to_s: Math.min(levels.length * frameS, (last + 1) * frameS + limits.beside_s),
    });
    free = free.filter((one) => one < first || one > last);
  }
  return found;
}

/** Which measurement of several stretches to keep: the surest, then the one with most firings, then the first. */
export function bestStretch(measured: readonly Pick<Measurement, "verdict" | "reason" | "firings">[]): number {
  const worth = ({ verdict, reason, firings }: (typeof measured)[number]) => [VERDICTS.indexOf(verdict), Number(reason !== "may_not_be_a_shutter"), firings.length];
  const isMore = (one: readonly number[], other: readonly number[]) => {
    const differs = one.findIndex((value, index) => value !== other[index]);
    return differs >= 0 && one[differs]! > other[differs]!;
  };
  return measured.reduce((best, one, index) => (isMore(worth(one), worth(measured[best]!)) ? index : best), 0);
}

/** A measurement of a stretch that begins at `byS`, with its moments counted from the start of the whole recording. */
export function shifted<M extends Pick<Measurement, "firings" | "clicks_s">>(measurement: M, byS: number): M {
  const firings = measurement.firings.map((firing) => ({ ...firing, open_s: firing.open_s + byS, close_s: firing.close_s + byS }));
  return { ...measurement, firings, clicks_s: measurement.clicks_s.map((atS) => atS + byS) };
}

/** Frames that stand well over the mean of those just before. */
function onsets(levels: ArrayLike<number>, { behind_frames: behind, rise_db: riseDb }: StretchLimits): number[] {
  const found: number[] = [];
  let before = 0;
  for (let index = 0; index < levels.length; index += 1) {
    if (index >= behind) {
      if (behind * levels[index]! - before >= behind * 10 * riseDb) found.push(index);
      before -= levels[index - behind]!;
    }
    before += levels[index]!;
  }
  return found;
}

/** First and last frame of the clicks round `near[seed]`, the nearer neighbour always next. */
function gathered(near: readonly number[], seed: number, frameS: number, limits: StretchLimits): [number, number] {
  let [low, high] = [seed, seed];
  const longestS = limits.longest_s - 2 * limits.beside_s;
  for (;;) {
    const left = low > 0 ? near[low]! - near[low - 1]! : Infinity;
    const right = high + 1 < near.length ? near[high + 1]! - near[high]! : Infinity;
    const step = Math.min(left, right);
    if (step * frameS > limits.gap_s || (near[high]! - near[low]! + step + 1) * frameS > longestS) return [near[low]!, near[high]!];
    if (left <= right) low -= 1;
    else high += 1;
  }
}
