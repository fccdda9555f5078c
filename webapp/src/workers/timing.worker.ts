// Measures recordings away from the page: {id, samples, rate, marked_s} in, {id, result} or {id, error} out.

import constants from "@catalogue/shutter_timing.json";
import { type BesideMeasurement, measureBeside } from "../domain/shutter_beside.ts";

export interface TimingRequest {
  readonly id: number | string;
  /** Mono, full scale -1..1. */
  readonly samples: Float32Array;
  readonly rate: number;
  readonly marked_s: number | null;
}

export type TimingReply = { readonly id: number | string; readonly result: BesideMeasurement } | { readonly id: number | string; readonly error: string };

self.onmessage = ({ data }: MessageEvent<TimingRequest>) => {
  self.postMessage(reply(data));
};

function reply({ id, samples, rate, marked_s }: TimingRequest): TimingReply {
  try {
    return { id, result: measureBeside(samples, rate, marked_s, constants) };
  } catch (error) {
    return { id, error: error instanceof Error ? error.message : String(error) };
  }
}
