// Bellows and extension: what a draw from shortest to longest gives a focal length, by the thin lens.

import { type Figure, positive } from "./uncertainty.ts";

export type Infinity = "yes" | "cannot_close_up" | "cannot_draw_out" | "cannot_tell";

export interface Reach {
  /** "cannot_close_up": the shortest draw is too long. */
  readonly infinity: Infinity;
  /** At the longest draw; null where infinity lies beyond it. */
  readonly magnification: number | null;
  /** From the lens to the nearest thing that can be sharp; null at infinity. */
  readonly nearest_mm: number | null;
  readonly factor: number | null;
  readonly stops: number | null;
  /** Draw left after infinity. */
  readonly draw_over_mm: number;
  readonly moves_at_infinity: boolean | null;
}

const LONGEST_MM = 5000;
const FOCAL = "The focal length, in mm,";

/** Image over object with the lens `extensionMm` from the film: v/f − 1; below 0 it cannot reach infinity. */
export function magnificationAt(extensionMm: number, focalMm: number): number {
  return positive(extensionMm, "The extension, in mm,", LONGEST_MM) / positive(focalMm, FOCAL, 3000) - 1;
}

/** The extension f·(1 + m), in mm, for a magnification from 0 (infinity). */
export function extensionFor(magnification: number, focalMm: number): number {
  if (magnification < 0) throw new RangeError("A magnification is 0 at infinity and grows as you come nearer; it is never below 0.");
  return positive(focalMm, FOCAL, 3000) * (1 + magnification);
}

/** How far before the lens, in mm, is what is sharp at this extension: f·v/(v − f). */
export function objectDistance(extensionMm: number, focalMm: number): number {
  if (magnificationAt(extensionMm, focalMm) <= 0) throw new RangeError("With this extension nothing nearer than infinity is sharp.");
  return (focalMm * extensionMm) / (extensionMm - focalMm);
}

/** How much longer to expose at an extension: (v/f)², and that in stops. */
export function bellowsFactor(extensionMm: number, focalMm: number): { factor: number; stops: number } {
  const factor = (magnificationAt(extensionMm, focalMm) + 1) ** 2;
  return { factor, stops: Math.log2(factor) };
}

/**
 * What a camera's draw gives a lens; lengths in mm from lens board to film.
 *
 * `flangeMm` is the lens's own distance from board to film at infinity (a telephoto needs less than its focal length); without it
 * the focal length stands in. `freeMm`: the least draw at which the front still moves freely, told by the person.
 */
export function reach(shortestMm: Figure, longestMm: Figure, focalMm: Figure, flangeMm: Figure | null = null, freeMm: number | null = null): Reach {
  const focal = positive(focalMm.value, FOCAL, 3000);
  if (positive(shortestMm.value, "The shortest draw, in mm,", LONGEST_MM) > positive(longestMm.value, "The longest draw, in mm,", LONGEST_MM)) {
    throw new RangeError("The shortest draw is longer than the longest; they may have been swapped.");
  }
  const need = flangeMm ?? focalMm;
  const over = longestMm.value - need.value;
  const m = over >= 0 ? over / focal : null;
  return {
    infinity: infinityOf(shortestMm, longestMm, need),
    magnification: m,
    nearest_mm: m !== null && m > 0 ? focal * (1 + 1 / m) : null,
    factor: m === null ? null : (1 + m) ** 2,
    stops: m === null ? null : 2 * Math.log2(1 + m),
    draw_over_mm: over,
    moves_at_infinity: freeMm === null ? null : need.value >= freeMm,
  };
}

function infinityOf(shortest: Figure, longest: Figure, need: Figure): Infinity {
  if (need.high < shortest.low) return "cannot_close_up";
  if (need.low > longest.high) return "cannot_draw_out";
  return shortest.high <= need.low && need.high <= longest.low ? "yes" : "cannot_tell";
}
