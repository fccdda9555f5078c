// Whether firings stand alone: a shutter is fired into a rest, while talk goes on around its sharpest sounds nearly as loud.

import type { Click } from "./shutter_candidates.ts";
import type { Event } from "./shutter_events.ts";
import type { Signal, TimingConstants } from "./shutter_signal.ts";

/**
 * `events`: of `findEvents`, not empty; `limits`: the catalogue's `shutter_timing.alone`.
 *
 * Measured against the weaker click of the likeliest firing: how long it is nearly as loud outside all firings, and how many
 * clicks are; both a second, of at least one second, for a cut recording may hold hardly anything but the firing. And between
 * its two clicks hardly any other is as loud: a train's ticks are weaker than the impacts, the pulses of a voice are not.
 */
export function standsAlone(signal: Signal, clicks: readonly Click[], events: readonly Event[], limits: TimingConstants["alone"]): boolean {
  const { open, close, openS, closeS } = events[0]!.best;
  const weakerDb = Math.min(open.levelDb, close.levelDb);
  const isInside = (atS: number) => atS > openS + limits.inside_after_s && atS < closeS - limits.inside_before_s;
  const inside = clicks.filter(({ at, levelDb }) => levelDb > weakerDb && isInside(at / signal.rateHz)).length;
  if (inside > limits.most_inside) return false;
  const spans = events.map(({ best }) => [best.openS - limits.before_s, best.closeS + limits.after_s] as const);
  const isOutside = (at: number) => spans.every(([fromS, toS]) => at / signal.rateHz < fromS || at / signal.rateHz > toS);
  const { frame, frameDbSum } = signal;
  const loudDb = signal.floorDb + weakerDb - limits.sound_below_db;
  let [apart, loud] = [0, 0];
  for (let index = 0; index + 1 < frameDbSum.length; index += 1) {
    if (!isOutside(index * frame)) continue;
    apart += 1;
    if (frameDbSum[index + 1]! - frameDbSum[index]! > loudDb) loud += 1;
  }
  const frameS = frame / signal.rateHz;
  const seconds = Math.max(frameS * apart, 1);
  const asLoud = clicks.filter(({ at, levelDb }) => levelDb > weakerDb - limits.click_below_db && isOutside(at)).length;
  return frameS * loud <= limits.most_sound * seconds && asLoud <= limits.most_clicks_per_s * seconds;
}
