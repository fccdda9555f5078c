// A recording of any length, measured in bounded memory: one pass for the outline of its clicks, then the stretches worth it.
import { type BesideMeasurement, measureBeside } from "../domain/shutter_beside.ts";
import type { TimingConstants } from "../domain/shutter_signal.ts";
import { bestStretch, ClickOutline, type Stretch, stretches } from "../domain/shutter_stretch.ts";
import { BadSound, HEAD_BYTES, loudestChannel, readChannel, type WavLayout, wavLayout } from "../domain/wav.ts";

/** A file read piece by piece: a phone's or a computer's. */
export interface Pieces {
  readonly size: number;
  readonly read: (from: number, to: number) => Promise<ArrayBuffer>;
}

/** What was found, and where: `stretch` in seconds of the whole recording, `samples` those of the stretch, in which `result` counts. */
export interface FoundStretch {
  readonly samples: Float32Array;
  readonly rateHz: number;
  readonly stretch: Stretch;
  readonly result: BesideMeasurement;
}

const BLOCK_BYTES = 1 << 20;

export async function layoutOf(file: Pieces): Promise<WavLayout> {
  return wavLayout(await file.read(0, Math.min(file.size, HEAD_BYTES)), file.size);
}

/** `markedS` in seconds, or null; `tell` hears the share that has been gone through, 0..1. Throws BadSound. */
export async function findFirings(file: Pieces, markedS: number | null, constants: TimingConstants, tell: (share: number) => void): Promise<FoundStretch> {
  const layout = await layoutOf(file);
  const { rateHz, frames, frameBytes, start } = layout;
  const outline = new ClickOutline(rateHz, constants.stretch);
  const blockFrames = Math.max(1, Math.floor(BLOCK_BYTES / frameBytes));
  const piece = (from: number, to: number) => file.read(start + from * frameBytes, start + Math.min(frames, to) * frameBytes);
  for (let at = 0; at < frames; at += blockFrames) {
    tell(at / frames);
    const block = await piece(at, at + blockFrames);
    const channels = Array.from({ length: layout.channels }, (_, channel) => readChannel(block, layout, channel));
    for (const samples of channels) refuseNoNumbers(samples);
    outline.add(channels);
  }
  tell(1);
  const heard = [];
  for (const { from_s, to_s } of stretches(outline.levels(), outline.frameS, constants.stretch)) {
    const first = Math.floor(from_s * rateHz);
    const samples = loudestChannel(await piece(first, Math.ceil(to_s * rateHz)), layout);
    heard.push({ samples, rateHz, stretch: { from_s: first / rateHz, to_s }, result: measureBeside(samples, rateHz, markedS, constants) });
  }
  return heard[bestStretch(heard.map(({ result }) => result))]!;
}

function refuseNoNumbers(samples: Float32Array): void {
  if (!samples.every(Number.isFinite)) throw new BadSound("This recording holds values that are no sound: record again, or export it anew.");
}
