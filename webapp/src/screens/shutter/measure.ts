// Asks the timing worker for the firings of a recording; the page stays quick under the thumb meanwhile.
import type { BesideMeasurement } from "../../domain/shutter_beside.ts";
import type { TimingReply } from "../../workers/timing.worker.ts";

let worker: Worker | null = null;
let turn = 0;
const waiting = new Map<number | string, { done: (result: BesideMeasurement) => void; fail: (error: Error) => void }>();

function timingWorker(): Worker {
  if (worker) return worker;
  worker = new Worker(new URL("../../workers/timing.worker.ts", import.meta.url), { type: "module" });
  worker.addEventListener("message", ({ data }: MessageEvent<TimingReply>) => {
    const one = waiting.get(data.id);
    waiting.delete(data.id);
    if ("result" in data) one?.done(data.result);
    else one?.fail(new Error(data.error));
  });
  worker.addEventListener("error", () => {
    for (const one of waiting.values()) one.fail(new Error("The phone could not measure this sound. It is kept; try again."));
    waiting.clear();
    worker = null;
  });
  return worker;
}

/** The person no longer wants the answer. */
export class Stopped extends Error {}

/** Gives up on whatever is being measured; the next question starts afresh. */
export function stopMeasuring(): void {
  worker?.terminate();
  worker = null;
  for (const one of waiting.values()) one.fail(new Stopped("stopped"));
  waiting.clear();
}

/** `markedS`: the marked speed in seconds, or null. The samples are copied, so the caller keeps its own. */
export function measureSound(samples: Float32Array, rateHz: number, markedS: number | null): Promise<BesideMeasurement> {
  turn += 1;
  const id = turn;
  return new Promise((done, fail) => {
    waiting.set(id, { done, fail });
    timingWorker().postMessage({ id, samples, rate: rateHz, marked_s: markedS });
  });
}
