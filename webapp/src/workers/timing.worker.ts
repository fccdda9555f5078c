// Measures recordings away from the page: samples or a long file in, a result or an error out, under the question's id.

import constants from "@catalogue/shutter_timing.json";
import { type BesideMeasurement, measureBeside } from "../domain/shutter_beside.ts";
import { findFirings, type FoundStretch } from "./timing_long.ts";

interface Asked { readonly id: number | string; readonly marked_s: number | null }

/** Samples are mono, full scale -1..1. A file is a WAV of any length; on the way through it come replies with `progress`, 0..1. */
export type TimingRequest = Asked & ({ readonly samples: Float32Array; readonly rate: number } | { readonly file: Blob });

export type TimingReply = { readonly id: number | string } & (
  | { readonly result: BesideMeasurement } | { readonly found: FoundStretch } | { readonly progress: number } | { readonly error: string });

self.onmessage = async ({ data }: MessageEvent<TimingRequest>) => {
  self.postMessage(await reply(data));
};

async function reply(asked: TimingRequest): Promise<TimingReply> {
  const { id, marked_s: markedS } = asked;
  try {
    if (!("file" in asked)) return { id, result: measureBeside(asked.samples, asked.rate, markedS, constants) };
    const { file } = asked;
    const pieces = { size: file.size, read: (from: number, to: number) => file.slice(from, to).arrayBuffer() };
    return { id, found: await findFirings(pieces, markedS, constants, (progress) => self.postMessage({ id, progress } satisfies TimingReply)) };
  } catch (error) {
    return { id, error: error instanceof Error ? error.message : String(error) };
  }
}
