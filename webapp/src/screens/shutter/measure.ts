// Asks the timing worker for the firings of a recording; the page stays quick under the thumb meanwhile.
import type { BesideMeasurement } from "../../domain/shutter_beside.ts";
import { Asking } from "../../workers/asking.ts";
import type { TimingReply, TimingRequest } from "../../workers/timing.worker.ts";

const asking = new Asking<Omit<TimingRequest, "id">, TimingReply, BesideMeasurement>(
  () => new Worker(new URL("../../workers/timing.worker.ts", import.meta.url), { type: "module" }),
  (reply) => {
    if ("result" in reply) return reply.result;
    throw new Error(reply.error);
  },
  "The phone could not measure this sound. It is kept; try again.",
);

/** The person no longer wants the answer. */
export class Stopped extends Error {}

/** Gives up on whatever is being measured; the next question starts afresh. */
export function stopMeasuring(): void {
  asking.stop(new Stopped("stopped"));
}

/** `markedS`: the marked speed in seconds, or null. The samples are copied, so the caller keeps its own. */
export function measureSound(samples: Float32Array, rateHz: number, markedS: number | null): Promise<BesideMeasurement> {
  return asking.ask({ samples, rate: rateHz, marked_s: markedS });
}
