// Mounting: which shutter a hole is for, whether a board takes it, and what an adapter between two boards would have to do.

import type { Catalogue, Standard } from "./catalogue.ts";
import { type Figure, positive, sideOf } from "./uncertainty.ts";

type Standards = Pick<Catalogue, "standards">;

export interface Board {
  readonly width_mm: number;
  readonly height_mm: number;
}

export interface HoleSize {
  /** Only where the published hole lies within the interval. */
  readonly size: string | null;
  readonly nearest: string;
  /** As published. */
  readonly hole_mm: number;
  readonly off_mm: number;
  readonly source: string;
  readonly sureness: string;
}

export interface WantedHole {
  readonly mm: number;
  /** What will do. */
  readonly low_mm: number;
  readonly high_mm: number;
  readonly source: string;
  readonly sureness: string;
}

export interface HoleTakes {
  /** "bore": too small; "ring": too large. */
  readonly fit: "fits" | "bore" | "ring" | "cannot_tell";
  /** The hole less the one wanted. */
  readonly by_mm: number;
}

export interface ThicknessTakes {
  readonly fit: "fits" | "too_thin" | "too_thick";
  readonly low_mm: number;
  readonly high_mm: number;
  readonly source: string;
  readonly sureness: string;
}

// All of these are common practice, no source; what is over a thread is from memory.
const LOOSE_MM = 1;
const OVER_THREAD_MM = 2;
const MOST_OVER_MM = 3.5;
const THREAD_SOURCE = "2 mm over the thread, as holes of usual shutters are; from memory";
const RIM_MM = 6;
const SAME_MM = 0.5;
const LARGEST_HOLE_MM = 300;
const FITS = { within: "fits", below: "bore", above: "ring", cannot_tell: "cannot_tell" } as const;

function holesOf({ standards }: Standards): Standard[] {
  return standards.filter((one) => one.quantity === "board_hole");
}

/** The leaf-shutter size a board hole is for; the nearest one is named where none is. */
export function holeSize(holeMm: Figure, catalogue: Standards): HoleSize {
  positive(holeMm.value, "The hole, in mm,", LARGEST_HOLE_MM);
  const nearest = holesOf(catalogue).reduce((one, other) => (Math.abs(other.value - holeMm.value) < Math.abs(one.value - holeMm.value) ? other : one));
  const give = nearest.tolerance ?? 0;
  const size = nearest.applies.shutter_size!;
  const fits = holeMm.low - give <= nearest.value && nearest.value <= holeMm.high + give;
  return { size: fits ? size : null, nearest: size, hole_mm: nearest.value, off_mm: holeMm.value - nearest.value, source: nearest.source, sureness: nearest.sureness };
}

/** The hole a lens wants: published for its shutter `size`, else from its thread. Throws RangeError where neither is known. */
export function wantedHole(size: string | null | undefined, threadMm: number | null | undefined, catalogue: Standards): WantedHole {
  const found = holesOf(catalogue).find((one) => one.applies.shutter_size === size);
  if (found) {
    return { mm: found.value, low_mm: found.value - (found.tolerance ?? 0), high_mm: found.value + LOOSE_MM, source: found.source, sureness: found.sureness };
  }
  if (threadMm === null || threadMm === undefined) throw new RangeError("Say the size of the shutter, or measure its thread.");
  positive(threadMm, "The thread, in mm,", LARGEST_HOLE_MM);
  return { mm: threadMm + OVER_THREAD_MM, low_mm: threadMm + 0.1, high_mm: threadMm + MOST_OVER_MM, source: THREAD_SOURCE, sureness: "from memory" };
}

/** Whether a hole is the one wanted. */
export function holeTakes(holeMm: Figure, wanted: WantedHole): HoleTakes {
  positive(holeMm.value, "The hole, in mm,", LARGEST_HOLE_MM);
  return { fit: FITS[sideOf(holeMm, wanted.low_mm, wanted.high_mm)], by_mm: holeMm.value - wanted.mm };
}

/** Whether a board of this thickness suits the thread of a shutter size; null where nothing is published for it. */
export function thicknessTakes(thicknessMm: number, size: string, catalogue: Standards): ThicknessTakes | null {
  positive(thicknessMm, "The thickness of the board, in mm,", 60);
  const found = catalogue.standards.find((one) => one.quantity === "board_thickness_max" && one.applies.shutter_size === size);
  if (!found) return null;
  const low_mm = found.low!;
  const fit = thicknessMm < low_mm ? "too_thin" : thicknessMm > found.value ? "too_thick" : "fits";
  return { fit, low_mm, high_mm: found.value, source: found.source, sureness: found.sureness };
}

/** Whether a blank board is large enough for a hole of this size, and the board left at the narrowest. */
export function boardRoom(widthMm: number, heightMm: number, holeMm: number): { enough: boolean; rim_mm: number } {
  const least = Math.min(positive(widthMm, "The width of the board, in mm,", 1000), positive(heightMm, "The height of the board, in mm,", 1000));
  const rim_mm = (least - positive(holeMm, "The hole, in mm,", LARGEST_HOLE_MM)) / 2;
  return { enough: rim_mm >= RIM_MM, rim_mm };
}

/**
 * What must stand between a board on a lens and the board a camera takes.
 *
 * "none": the same size; "reducing": an adapter board that carries the smaller one; "new_board": too large to be carried.
 */
export function adapter(lensBoard: Board, cameraBoard: Board): { need: "none" | "reducing" | "new_board"; rim_mm: number } {
  for (const one of [lensBoard, cameraBoard]) {
    positive(one.width_mm, "The width of the board, in mm,", 1000);
    positive(one.height_mm, "The height of the board, in mm,", 1000);
  }
  // A board may be turned: long sides are held against long sides.
  const short = Math.min(cameraBoard.width_mm, cameraBoard.height_mm) - Math.min(lensBoard.width_mm, lensBoard.height_mm);
  const long = Math.max(cameraBoard.width_mm, cameraBoard.height_mm) - Math.max(lensBoard.width_mm, lensBoard.height_mm);
  const rim_mm = Math.min(short, long) / 2;
  if (Math.abs(short) <= SAME_MM && Math.abs(long) <= SAME_MM) return { need: "none", rim_mm };
  return { need: rim_mm >= RIM_MM ? "reducing" : "new_board", rim_mm };
}
