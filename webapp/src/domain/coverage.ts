// Coverage: the image circle of a lens against the true picture of a format, and the room it leaves to shift and rise.

import type { Catalogue } from "./catalogue.ts";
import { halfAway } from "./rounding.ts";
import { positive } from "./uncertainty.ts";

export interface ImageArea {
  readonly width_mm: number;
  readonly height_mm: number;
  readonly diagonal_mm: number;
  /** Whether the edges of the holder are off; else the nominal size stands in. */
  readonly true: boolean;
  readonly source: string;
  readonly sureness: string;
}

export interface Room {
  readonly covers: boolean;
  /** Circle less diagonal. */
  readonly spare_mm: number;
  /** Each alone. */
  readonly rise_mm: number;
  readonly shift_mm: number;
}

export interface CoverageDrawing {
  readonly size: number;
  readonly mm_to_units: number;
  readonly circle: { readonly x: number; readonly y: number; readonly r: number };
  readonly frame: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  /** Whether a corner leaves the circle. */
  readonly outside: boolean;
}

const SIZE = 320;
const LARGEST_MM = 3000;

/** The picture a format really gets, upright; the nominal size stands in where no true one is known. */
export function imageArea(format: string, catalogue: Pick<Catalogue, "formats">): ImageArea {
  const found = catalogue.formats.find((one) => one.id === format);
  if (!found) throw new RangeError("Choose a format.");
  const { width_mm, height_mm, source, sureness } = found.image ?? found;
  return { width_mm, height_mm, diagonal_mm: Math.hypot(width_mm, height_mm), true: found.image !== undefined, source, sureness };
}

/** What an image circle of this diameter leaves around a picture; turn the picture by swapping width and height. */
export function room(circleMm: number, widthMm: number, heightMm: number): Room {
  positive(circleMm, "The image circle, in mm,", LARGEST_MM);
  positive(widthMm, "The width of the picture, in mm,", LARGEST_MM);
  positive(heightMm, "The height of the picture, in mm,", LARGEST_MM);
  const spare_mm = circleMm - Math.hypot(widthMm, heightMm);
  const covers = spare_mm >= 0;
  return { covers, spare_mm, rise_mm: covers ? along(circleMm, widthMm, heightMm, 0) : 0, shift_mm: covers ? along(circleMm, heightMm, widthMm, 0) : 0 };
}

/** How far the picture can still go sideways, in mm, once it has risen or fallen by `riseMm`; null beyond the circle. */
export function shiftLeft(circleMm: number, widthMm: number, heightMm: number, riseMm: number): number | null {
  const whole = room(circleMm, widthMm, heightMm);
  if (riseMm < 0) throw new RangeError("A rise or fall is typed without a sign, from 0.");
  return !whole.covers || riseMm > whole.rise_mm ? null : along(circleMm, heightMm, widthMm, riseMm);
}

/** The most, in mm, that the picture can rise and shift at once, as much of the one as of the other; 0 where it does not cover. */
export function bothAlike(circleMm: number, widthMm: number, heightMm: number): number {
  if (!room(circleMm, widthMm, heightMm).covers) return 0;
  // From (w/2 + d)² + (h/2 + d)² = (D/2)²: the outer corner on the circle.
  const apart = (widthMm - heightMm) / 4;
  return Math.max(0, Math.sqrt(circleMm ** 2 / 8 - apart ** 2) - (widthMm + heightMm) / 4);
}

function along(circleMm: number, acrossMm: number, alongMm: number, movedAcrossMm: number): number {
  const inside = (circleMm / 2) ** 2 - (acrossMm / 2 + movedAcrossMm) ** 2;
  return Math.max(0, Math.sqrt(Math.max(0, inside)) - alongMm / 2);
}

/** Circle and picture to scale, the picture moved by `riseMm` up and `shiftMm` to the right. */
export function coverageDrawing(circleMm: number, widthMm: number, heightMm: number, riseMm = 0, shiftMm = 0): CoverageDrawing {
  room(circleMm, widthMm, heightMm);
  const [halfWide, halfHigh] = [widthMm / 2 + Math.abs(shiftMm), heightMm / 2 + Math.abs(riseMm)];
  const units = (SIZE / 2 - 10) / Math.max(circleMm / 2, halfWide, halfHigh);
  return {
    size: SIZE,
    mm_to_units: units,
    circle: { x: SIZE / 2, y: SIZE / 2, r: halfAway((circleMm / 2) * units, 1) },
    frame: {
      x: halfAway(SIZE / 2 + (shiftMm - widthMm / 2) * units, 1),
      y: halfAway(SIZE / 2 - (riseMm + heightMm / 2) * units, 1),
      width: halfAway(widthMm * units, 1),
      height: halfAway(heightMm * units, 1),
    },
    outside: Math.hypot(halfWide, halfHigh) > circleMm / 2,
  };
}
