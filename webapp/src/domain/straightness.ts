// Straight and square by simple means: standards from four gaps, a slide on a table, a divider under a straightedge.

import { goneAt, type GoneAt } from "./focus_blur.ts";
import { type Figure, figure, type Instrument, instrumentU, positive, readFigure } from "./uncertainty.ts";

export const CORNERS = ["top_left", "top_right", "bottom_left", "bottom_right"] as const;

interface Size {
  readonly width_mm: number;
  readonly height_mm: number;
}

export interface OutOfParallel {
  /** Right less left. */
  readonly swing_mm: Figure;
  /** Bottom less top. */
  readonly tilt_mm: Figure;
  /** The larger of the two, without its sign. */
  readonly across_mm: Figure;
  /** What no turning explains: a bent standard or a misread gap. */
  readonly twist_mm: Figure;
}

// Standards out by less than this across the picture never show (standard `parallel_harmless`).
const HARMLESS_MM = 1;

/** How far two standards are out of parallel across the picture, from the gap at each corner in mm. */
export function outOfParallel(gaps: Readonly<Record<string, number>>, instrument: Instrument, apart: Size | null = null, picture: Size | null = null): OutOfParallel {
  if (CORNERS.some((corner) => !(corner in gaps))) throw new RangeError("Measure the gap at all four corners.");
  const [topLeft, topRight, bottomLeft, bottomRight] = CORNERS.map((corner) => positive(gaps[corner]!, "A gap, in mm,", 3000)) as [number, number, number, number];
  const u = instrumentU(instrument);
  const [wide, high] = apart && picture ? [picture.width_mm / apart.width_mm, picture.height_mm / apart.height_mm] : [1, 1];
  const swing_mm = figure(((topRight + bottomRight - topLeft - bottomLeft) / 2) * wide, u * wide);
  const tilt_mm = figure(((bottomLeft + bottomRight - topLeft - topRight) / 2) * high, u * high);
  const more = Math.abs(tilt_mm.value) > Math.abs(swing_mm.value) ? tilt_mm : swing_mm;
  const spread = (more.high - more.low) / 2;
  const size = Math.abs(more.value);
  return {
    swing_mm,
    tilt_mm,
    across_mm: { value: size, low: Math.max(0, size - spread), high: size + spread },
    twist_mm: figure((topLeft + bottomRight - topRight - bottomLeft) / 2, u),
  };
}

/** What standards out by `acrossMm` over the picture do: half of it at the edges, gone from N = d/(2c). */
export function parallelEffect(acrossMm: Figure, stops: readonly number[], circleMm: number): GoneAt & { edge_mm: Figure; harmless: boolean } {
  const edge_mm = { value: acrossMm.value / 2, low: acrossMm.low / 2, high: acrossMm.high / 2 };
  return { edge_mm, ...goneAt(edge_mm, stops, circleMm), harmless: acrossMm.high < HARMLESS_MM };
}

export interface SlideGap {
  readonly gap_mm: Figure;
  /** Against 1 mm in 200: common practice, no source. */
  readonly bow: "flat" | "bowed" | "cannot_tell";
  readonly radius_mm: number | null;
}

/** A slide lying on a flat table with a feeler under its highest spot; what light it lets in a gap cannot tell: try a lamp. */
export function slideGap(gapMm: number, lengthMm: number, instrument: Instrument): SlideGap {
  positive(lengthMm, "The length of the slide, in mm,", 1000);
  if (gapMm < 0 || gapMm > lengthMm / 4) throw new RangeError("The gap under a slide is from 0 to a quarter of its length, in mm; check the figure.");
  const gap_mm = readFigure(gapMm, instrument);
  const limit = lengthMm / 200;
  const bow = gap_mm.high <= limit ? "flat" : gap_mm.low > limit ? "bowed" : "cannot_tell";
  return { gap_mm, bow, radius_mm: gapMm > 0 ? lengthMm ** 2 / (8 * gapMm) + gapMm / 2 : null };
}

/** A divider under a straightedge: film that lies on it follows, so the gap is a focus error at its deepest spot. */
export function dividerBow(gapMm: number, instrument: Instrument, stops: readonly number[], circleMm: number): GoneAt & { error_mm: Figure } {
  if (gapMm < 0 || gapMm > 20) throw new RangeError("The gap under the straightedge is from 0 to 20 mm; check the figure.");
  const read = readFigure(gapMm, instrument);
  const error_mm = { ...read, low: Math.max(0, read.low) };
  return { error_mm, ...goneAt(error_mm, stops, circleMm) };
}

/** A frame from its two diagonals, in mm; "no" where the interval leaves nothing out. */
export function outOfSquare(diagonal1Mm: number, diagonal2Mm: number, instrument: Instrument): { apart_mm: Figure; square: "yes" | "no" | "cannot_tell" } {
  positive(diagonal1Mm, "A diagonal, in mm,", 3000);
  positive(diagonal2Mm, "A diagonal, in mm,", 3000);
  const apart_mm = figure(diagonal1Mm - diagonal2Mm, instrumentU(instrument) * Math.SQRT2);
  const square = apart_mm.low > 0 || apart_mm.high < 0 ? "no" : apart_mm.high - apart_mm.low < 2 * HARMLESS_MM ? "yes" : "cannot_tell";
  return { apart_mm, square };
}
