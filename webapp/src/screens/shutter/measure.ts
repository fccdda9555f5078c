// Asks the timing worker for the firings of a recording; the page stays quick under the thumb meanwhile.
import type { BesideMeasurement } from "../../domain/shutter_beside.ts";
import { BadSound } from "../../domain/wav.ts";
import { Asking } from "../../workers/asking.ts";
import type { TimingReply } from "../../workers/timing.worker.ts";
import type { FoundStretch } from "../../workers/timing_long.ts";

const make = () => new Worker(new URL("../../workers/timing.worker.ts", import.meta.url), { type: "module" });

const short = new Asking<{ samples: Float32Array; rate: number; marked_s: number | null }, TimingReply, BesideMeasurement>(
  make,
  (reply) => {
    if ("result" in reply) return reply.result;
    throw new Error("error" in reply ? reply.error : "no result");
  },
  "The phone could not measure this sound. It is kept; try again.",
);

// A worker of its own: going through an hour of sound must not hold up the takes on the screen.
const long = new Asking<{ file: Blob; marked_s: number | null }, TimingReply, FoundStretch>(
  make,
  (reply) => {
    if ("found" in reply) return reply.found;
    throw new BadSound("error" in reply ? reply.error : "no result");
  },
  "The phone could not go through this recording. Nothing of it is kept; try again, or cut it first.",
);

/** The person no longer wants the answer. */
export class Stopped extends Error {}

/** Gives up on whatever is being measured; the next question starts afresh. */
export function stopMeasuring(): void {
  for (const asking of [short, long]) asking.stop(new Stopped("stopped"));
}

/** `markedS`: the marked speed in seconds, or null. The samples are copied, so the caller keeps its own. */
export function measureSound(samples: Float32Array, rateHz: number, markedS: number | null): Promise<BesideMeasurement> {
  return short.ask({ samples, rate: rateHz, marked_s: markedS });
}

/** The stretch with the firings of a WAV file of any length; `hear` is told the share gone through, 0..1. Rejects with BadSound. */
export function findInFile(file: Blob, markedS: number | null, hear: (share: number) => void): Promise<FoundStretch> {
  return long.ask({ file, marked_s: markedS }, hear);
}
