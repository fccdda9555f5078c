// The reading without the mark beside the one with it: a mark must not turn the gap between short firings into one long firing.

import type { TimingConstants } from "./shutter_signal.ts";
import { type Firing, type Measurement, measureBoth } from "./shutter_timing.ts";

/** What the sound says by itself; the time in seconds, null where nothing could be read. */
export interface Unmarked {
  readonly verdict: Measurement["verdict"];
  readonly open_time_s: number | null;
  /** How many firings it finds. */
  readonly firings: number;
}

export interface BesideMeasurement extends Measurement {
  readonly unmarked: Unmarked;
}

// A firing that lies inside is at most this share of the time around it: a train's ticks seldom make a pair so short and clear.
const INSIDE_SHARE = 0.5;
const EDGE_S = 0.005;

/** What `measure` returns for the marked speed, weighed against the sound by itself. Throws RangeError as `measure` does. */
export function measureBeside(samples: Float32Array, rateHz: number, markedS: number | null, constants: TimingConstants): BesideMeasurement {
  const { marked, unmarked } = measureBoth(samples, rateHz, markedS, constants);
  return weighed(marked, unmarked);
}

/** The marked measurement with the unmarked beside it; doubtful where that finds two or more shorter firings inside a marked one. */
export function weighed(marked: Measurement, unmarked: Measurement): BesideMeasurement {
  const beside: Unmarked = { verdict: unmarked.verdict, open_time_s: unmarked.open_time_s, firings: unmarked.firings.length };
  if (marked.marked_s === null || !marked.firings.some((firing) => holdsFirings(firing, unmarked.firings))) return { ...marked, unmarked: beside };
  const doubt = { verdict: "doubtful", reason: "several_firings_inside", other_s: unmarked.open_time_s } as const;
  return { ...marked, ...doubt, firings: marked.firings.map((firing) => ({ ...firing, ...doubt })), common: null, unmarked: beside };
}

function holdsFirings(around: Firing, firings: readonly Firing[]): boolean {
  const inside = firings.filter((one) => one.open_time_s <= INSIDE_SHARE * around.open_time_s
    && one.open_s >= around.open_s - EDGE_S && one.open_s <= around.close_s + EDGE_S);
  return inside.length > 1;
}
