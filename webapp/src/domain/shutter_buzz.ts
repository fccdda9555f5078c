// The gear train between opening and closing: whether its buzz falters. A hint to fire again, never a verdict.
//
// The escapement ticks evenly while it holds the blades. Where it sticks, it stands still for a while and the buzz falls away; so
// the deepest fall for 12 ms below the buzz's usual level tells more than single ticks, which echoes and noise add or hide.

import { fixed } from "./rounding.ts";
import type { Click } from "./shutter_candidates.ts";
import { percentile, type Signal, type TimingConstants } from "./shutter_signal.ts";

/** What a measurement says of the gear train. */
export interface Buzz {
  /** Heard in the firing that stands for all. */
  readonly ticks: number;
  /** How far the buzz falls below its usual level; the median over the firings. */
  readonly dip_db: number;
  readonly uneven: boolean;
}

interface Span {
  readonly open_s: number;
  readonly close_s: number;
}

interface Dip {
  readonly ticks: number;
  readonly db: number;
  /** The most that is usual for a train so long. */
  readonly mostDb: number;
}

type Limits = TimingConstants["buzz"];

/** The buzz of the firings, or null where no train can be judged; `lead`: the one that stands for all. */
export function buzzOf(signal: Signal, clicks: readonly Click[], firings: readonly Span[], lead: Span, limits: Limits): Buzz | null {
  const led = dipOf(signal, clicks, lead, limits);
  if (!led) return null;
  const found = firings.map((firing) => dipOf(signal, clicks, firing, limits)).filter((dip) => dip !== null);
  const beyondDb = median(found.map(({ db, mostDb }) => db - mostDb));
  return { ticks: led.ticks, dip_db: median(found.map(({ db }) => db)), uneven: beyondDb > 0 };
}

/** What to say of a measurement's `buzz` (missing in older ones), or null where there is nothing to say. */
export function buzzHint(buzz: Buzz | null | undefined): string | null {
  if (!buzz?.uneven) return null;
  return (
    `The gear train sounds uneven: its buzz falls by ${fixed(buzz.dip_db, 0)} dB for a moment. Fire this speed again; ` +
    "only the times and their scatter count."
  );
}

function dipOf(signal: Signal, clicks: readonly Click[], firing: Span, limits: Limits): Dip | null {
  const { rateHz, frame, frameDbSum } = signal;
  const start = (firing.open_s + limits.after_open_ms / 1000) * rateHz;
  const end = (firing.close_s - limits.before_close_ms / 1000) * rateHz;
  const ticks = clicks.filter(({ at }) => at >= start && at <= end);
  if (end - start < (limits.least_ms * rateHz) / 1000 || ticks.length < limits.least_ticks) return null;
  if (median(ticks.map(({ levelDb }) => levelDb)) < limits.least_level_db) return null;
  const first = Math.floor(start / frame);
  const count = Math.floor(end / frame) - first;
  const sum = new Float64Array(count + 1);
  for (let index = 0; index < count; index += 1) {
    sum[index + 1] = sum[index]! + 10 ** ((frameDbSum[first + index + 1]! - frameDbSum[first + index]!) / 10);
  }
  const window = limits.window_frames;
  const windowsDb = Array.from({ length: count + 1 - window }, (_, index) => 10 * Math.log10((sum[index + window]! - sum[index]!) / window));
  // The longer a healthy train runs, the deeper the deepest of its dips.
  const doublings = Math.log2((end - start) / rateHz / limits.usual_s);
  const leastDb = windowsDb.reduce((least, db) => Math.min(least, db), Infinity);
  return { ticks: ticks.length, db: median(windowsDb) - leastDb, mostDb: limits.dip_db + limits.dip_db_a_doubling * doublings };
}

function median(values: readonly number[]): number {
  return percentile(Float64Array.from(values), 50);
}
