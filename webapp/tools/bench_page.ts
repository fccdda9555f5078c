// The phone's timing engine timed on the thread of a page: all that is done to a recording, and one plain pass for scale.
import constants from "@catalogue/shutter_timing.json";
import { measureBeside } from "../src/domain/shutter_beside.ts";
import { measure } from "../src/domain/shutter_timing.ts";

export interface Times {
  /** Measured at its marked speed. */
  readonly measureMs: number;
  /** The same with the unmarked reading beside it, as the app does. */
  readonly besideMs: number;
  /** One sum of squares over the samples. */
  readonly passMs: number;
}

export function time(samples: Float32Array, rateHz: number, markedS: number): Times {
  const at = [performance.now()];
  measure(samples, rateHz, markedS, constants);
  at.push(performance.now());
  measureBeside(samples, rateHz, markedS, constants);
  at.push(performance.now());
  let energy = 0;
  for (let index = 0; index < samples.length; index += 1) energy += samples[index]! * samples[index]!;
  at.push(performance.now());
  if (!(energy >= 0)) throw new RangeError("the samples are not numbers");
  return { measureMs: at[1]! - at[0]!, besideMs: at[2]! - at[1]!, passMs: at[3]! - at[2]! };
}
