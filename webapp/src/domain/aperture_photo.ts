// The entrance pupil from one photo with a ruler in it: two taps on the ruler, two on the pupil.

import { type Figure, figure, positive, standardU } from "./uncertainty.ts";

export type Taps = readonly (readonly number[])[];

/** One standard uncertainty of a tap across its line, in pixels of the picture. Common practice, no source. */
export const TAP_U_PX = 2;

const LEAST_PX = 40;

/**
 * The pupil and the scale from [x, y] pairs in pixels; `rulerMm` is the length between the taps on the ruler.
 *
 * Holds where ruler and pupil lie equally far from the camera. Throws RangeError for taps too close together to say anything.
 */
export function pupilFromTaps(ruler: Taps, rulerMm: number, pupil: Taps, tapUPx = TAP_U_PX): { pupil_mm: Figure; scale_mm_per_px: Figure } {
  positive(rulerMm, "The length tapped on the ruler, in mm,", 1000);
  const along = apart(ruler);
  const across = apart(pupil);
  if (Math.min(along, across) < LEAST_PX) throw new RangeError("The taps lie too close together to measure; come closer with the camera, or tap a longer stretch of the ruler.");
  const tap = Math.SQRT2 * tapUPx;
  const scale = rulerMm / along;
  const mm = across * scale;
  return { pupil_mm: figure(mm, mm * Math.hypot(tap / along, tap / across)), scale_mm_per_px: figure(scale, (scale * tap) / along) };
}

/** The pupil where it lies `behindMm` further from the camera than the ruler, which is `cameraMm` away. */
export function atAnotherDepth(pupilMm: Figure, behindMm: number, cameraMm: number): Figure {
  positive(cameraMm, "The distance from camera to ruler, in mm,", 10000);
  if (behindMm < 0 || behindMm > cameraMm) throw new RangeError("How far the pupil lies behind the ruler must be from 0 to the distance of the camera, in mm.");
  const factor = 1 + behindMm / cameraMm;
  return figure(pupilMm.value * factor, Math.hypot(standardU(pupilMm) * factor, (pupilMm.value * behindMm) / 5 / cameraMm));
}

function apart(taps: Taps): number {
  const [one, other] = taps;
  if (taps.length !== 2 || !one || !other) throw new RangeError("Two taps are needed on the ruler and two on the pupil.");
  return Math.hypot(one[0]! - other[0]!, one[1]! - other[1]!);
}
