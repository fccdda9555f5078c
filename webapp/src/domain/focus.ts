// Ground glass and film: where the screen focuses, where the film lies, the error between them and what to do about it.

import { difference, type Figure, figure, plainNumber, positive, standardU } from "./uncertainty.ts";

export interface Sheet {
  readonly thickness_mm: number;
  readonly index: number;
}

export interface FocusError {
  /** How far the screen's plane lies behind the film's. */
  readonly error_mm: Figure;
  /** Where a picture is sharp, against where it was focused. */
  readonly sharp: "nearer" | "farther" | "cannot_tell";
  /** "add" moves the screen away from the lens. */
  readonly shim: { readonly do: "add" | "take_away" | "leave"; readonly mm: Figure };
}

/** One standard uncertainty of an index nobody measured. Common practice, no source. */
export const INDEX_U = 0.02;

const LEAST_INDEX = 1.3;
const MOST_INDEX = 2;
const THICKEST_MM = 20;
const SHIMS = { nearer: "add", farther: "take_away", cannot_tell: "leave" } as const;

/** How much further from the lens a plane plate moves the image, in mm: t·(1 − 1/n). Throws RangeError for a plate that cannot be. */
export function plateShift(thicknessMm: number, index: number): number {
  positive(thicknessMm, "The thickness of a sheet, in mm,", THICKEST_MM);
  if (!(index >= LEAST_INDEX && index <= MOST_INDEX)) {
    throw new RangeError(`An index of ${plainNumber(index)} is no glass or plastic: glass is about 1.52, acrylic 1.49. Type a figure from 1.3 to 2.0.`);
  }
  return thicknessMm * (1 - 1 / index);
}

/**
 * The depth, in mm from the seat of the holder, of the plane a screen really focuses on.
 *
 * `layers` are the sheets between lens and matte surface: a fresnel in front, or the glass itself where it was put in the wrong
 * way round. `measuredTo` is "matte" where the gauge stood at the depth of the matte surface, "front" where on the first layer.
 */
export function screenDepth(measuredMm: Figure, measuredTo: "matte" | "front", layers: readonly Sheet[] = []): { optical_mm: Figure; layers: { shift_mm: number }[] } {
  if (measuredTo !== "matte" && measuredTo !== "front") throw new RangeError("Say whether the depth was taken to the matte surface or to the sheet before it.");
  const shifts = layers.map(({ thickness_mm, index }) => plateShift(thickness_mm, index));
  const mechanical = measuredTo === "front" ? layers.reduce((sum, one) => sum + one.thickness_mm, 0) : 0;
  const u = Math.hypot(standardU(measuredMm), ...layers.map((one) => (one.thickness_mm / one.index ** 2) * INDEX_U));
  const moved = shifts.reduce((sum, one) => sum + one, 0);
  return { optical_mm: figure(measuredMm.value + mechanical - moved, u), layers: shifts.map((shift_mm) => ({ shift_mm })) };
}

/** The depth of the emulsion of film lying on the divider, in mm: depth to the divider less the film. */
export function filmPlane(dividerMm: Figure, filmMm: number): Figure {
  positive(filmMm, "The thickness of film, in mm,", 1);
  return figure(dividerMm.value - filmMm, standardU(dividerMm));
}

/** How far the screen's plane lies behind the film's, in mm, what that does and how to shim it. */
export function focusError(screenMm: Figure, filmMm: Figure): FocusError {
  const error_mm = difference(screenMm, filmMm);
  const sharp = error_mm.high < 0 ? "nearer" : error_mm.low > 0 ? "farther" : "cannot_tell";
  const size = figure(Math.abs(error_mm.value), standardU(error_mm));
  return { error_mm, sharp, shim: { do: SHIMS[sharp], mm: { ...size, low: Math.max(0, size.low) } } };
}
