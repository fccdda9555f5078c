// Which firing of which recording a take means, and what it reads: the machine's figure, or that of marks a person set.

import type { TimingConstants } from "./shutter_signal.ts";
import type { Mark } from "./shutter_table.ts";
import { type Firing, type Measurement, measureMarks } from "./shutter_timing.ts";

export interface Take {
  readonly id: string;
  readonly recording: string;
  readonly intent: { readonly marked: Mark; readonly cold: boolean; readonly ordinal?: number };
}

/** Seconds from the start of the recording. */
export interface Moved {
  readonly open_s: number;
  readonly close_s: number;
}

/** What one firing reads; times in seconds, limits are 95 %, all null where nothing could be read. */
export interface TakeReading {
  readonly verdict: Firing["verdict"];
  readonly reason: string | null;
  readonly open_s: number | null;
  readonly close_s: number | null;
  readonly open_time_s: number | null;
  readonly low_s: number | null;
  readonly high_s: number | null;
  readonly other_s: number | null;
  readonly moved: boolean;
}

/** A take in the form that `shutter_table.table` reads. */
export interface ReadTake {
  readonly id: string;
  readonly marked: Mark;
  readonly cold: boolean;
  readonly ordinal: number;
  readonly reading: TakeReading;
}

const NOTHING = { open_s: null, close_s: null, open_time_s: null, low_s: null, high_s: null, other_s: null };
// What casts doubt on the mark itself is no better for being heard three times.
const DOUBTS_OF_ALL: readonly string[] = ["far_from_mark", "several_firings_inside"];

/**
 * The takes in their order, each with its reading.
 *
 * `measured`: take id -> measurement of its recording at its marked speed; a take without one is left out. `moved`: take id
 * -> the marks a person set. Takes of one recording are its firings in order of `ordinal`; a take alone in its recording is
 * the recording as a whole.
 */
export function readTakes(takes: readonly Take[], measured: Readonly<Record<string, Measurement>>, moved: Readonly<Record<string, Moved>>, catalogue: { readonly shutter_timing: TimingConstants }): ReadTake[] {
  const constants = catalogue.shutter_timing;
  return takes.flatMap((take): ReadTake[] => {
    const measurement = measured[take.id];
    if (!measurement) return [];
    const together = takes.filter(({ recording }) => recording === take.recording).sort(byOrdinal);
    const marks = moved[take.id];
    const reading = marks ? measureMarks(marks.open_s, marks.close_s, constants) : firingOf(measurement, together.indexOf(take), together.length, constants);
    return [{ id: take.id, marked: take.intent.marked, cold: take.intent.cold, ordinal: ordinalOf(take), reading }];
  });
}

const ordinalOf = (take: Take): number => take.intent.ordinal ?? 1;

function byOrdinal(a: Take, b: Take): number {
  return ordinalOf(a) - ordinalOf(b) || (a.id < b.id ? -1 : 1);
}

function firingOf(measurement: Measurement, index: number, of: number, constants: TimingConstants): TakeReading {
  const { firings, common, verdict, reason, open_time_s } = measurement;
  if (of === 1) {
    const lead = firings.reduce<Firing | null>((best, one) => (best && off(best, open_time_s) <= off(one, open_time_s) ? best : one), null);
    if (!lead) return { ...NOTHING, verdict, reason, moved: false };
    return { ...lead, verdict, reason, open_time_s, low_s: measurement.low_s, high_s: measurement.high_s, other_s: measurement.other_s, moved: false };
  }
  const firing = firings[index];
  if (!firing) return { ...NOTHING, verdict: "unusable", reason: reason ?? "no_pair_stands_out", moved: false };
  if (DOUBTS_OF_ALL.includes(reason ?? "")) return { ...firing, verdict: "doubtful", reason, other_s: measurement.other_s, moved: false };
  // Firings that agree are clear together, even where one alone would be doubtful.
  const agreed = verdict === "clear" && common !== null && common.share >= constants.common.clear_share;
  return agreed ? { ...firing, verdict: "clear", reason: null, other_s: null, moved: false } : { ...firing, moved: false };
}

const off = (firing: Firing, openTimeS: number | null): number => Math.abs(firing.open_time_s - (openTimeS ?? 0));
