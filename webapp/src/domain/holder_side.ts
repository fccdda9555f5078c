// One side of a sheet holder: mean depth, tilt and dish of its divider from five points, each with its interval.

import type { ReadingKind } from "./catalogue.ts";
import { type Doubt, plausible, showLength } from "./lengths.ts";
import { type Figure, figure, type Instrument, instrumentU, meanFigure } from "./uncertainty.ts";

/** The five points of a side, seen with the loading end below. */
export const POINTS = ["top_left", "top_right", "bottom_left", "bottom_right", "middle"] as const;

export interface Tilt {
  /** Right less left. */
  readonly across_mm: Figure;
  /** Bottom less top. */
  readonly along_mm: Figure;
  /** Over the corners furthest apart. */
  readonly corner_mm: Figure;
}

export interface SideShape {
  readonly n: number;
  readonly mean_mm: Figure;
  readonly spread_mm: number;
  /** Null without all four corners. */
  readonly tilt: Tilt | null;
  /** Middle less the mean of the corners; positive is hollow towards the divider. */
  readonly dish_mm: Figure | null;
  /** Which of them the interval tells from nothing. */
  readonly notable: readonly ("tilt" | "dish")[];
}

// A point further than this from its neighbours is asked about at once: common practice, no source.
const STRANGE_MM = 0.5;

/** Depth of one side from its points, in mm by the names of the axis `point`. Throws RangeError without points or resolution. */
export function sideShape(points: Readonly<Record<string, number>>, instrument: Instrument): SideShape {
  const values = POINTS.filter((name) => name in points).map((name) => points[name]!);
  const mean_mm = meanFigure(values, instrument);
  const flat = { n: values.length, mean_mm, spread_mm: Math.max(...values) - Math.min(...values), tilt: null, dish_mm: null, notable: [] };
  const { top_left, top_right, bottom_left, bottom_right, middle } = points;
  if (top_left === undefined || top_right === undefined || bottom_left === undefined || bottom_right === undefined) return flat;
  const u = instrumentU(instrument);
  const across = (top_right + bottom_right - top_left - bottom_left) / 2;
  const along = (bottom_left + bottom_right - top_left - top_right) / 2;
  const tilt = { across_mm: figure(across, u), along_mm: figure(along, u), corner_mm: figure(Math.abs(across) + Math.abs(along), u * Math.SQRT2) };
  const dish_mm = middle === undefined ? null : figure(middle - (top_left + top_right + bottom_left + bottom_right) / 4, u * Math.sqrt(1.25));
  const notable = [
    ...(notNothing(tilt.across_mm) || notNothing(tilt.along_mm) ? ["tilt" as const] : []),
    ...(dish_mm && notNothing(dish_mm) ? ["dish" as const] : []),
  ];
  return { ...flat, tilt, dish_mm, notable };
}

function notNothing(one: Figure): boolean {
  return one.low > 0 || one.high < 0;
}

/** What to ask at once about a point just typed, in mm: by what the reading may be at all, then by the points already taken. */
export function pointDoubt(mm: number, besideMm: readonly number[], reading: Pick<ReadingKind, "plausible">): Doubt | null {
  const doubt = plausible(reading, mm);
  if (doubt || besideMm.length === 0) return doubt;
  const middle = [...besideMm].sort((one, other) => one - other)[Math.floor(besideMm.length / 2)]!;
  const off = Math.abs(mm - middle);
  if (off <= STRANGE_MM) return null;
  return { message: `${showLength(mm, "mm")} stands ${showLength(off, "mm")} off the other points (${showLength(middle, "mm")}). Read it once more.` };
}

export interface DepthCounts {
  readonly counts: boolean;
  readonly reason: string | null;
}

/** Whether a depth to the divider says anything about focus: only film that lies on the divider is placed by it. */
export function depthCounts(holders: { readonly registers_on?: string | null } | null | undefined): DepthCounts {
  const on = holders?.registers_on;
  if (on === "divider") return { counts: true, reason: null };
  if (on === "front_lip") return { counts: false, reason: "Plates and sheaths are pressed forward against a lip: the lip places them, not the divider. Depth to the divider says nothing here." };
  if (on === "pressure_plate") return { counts: false, reason: "A sprung plate presses this film forward: the frame places it. Depth to a divider says nothing here." };
  return { counts: true, reason: "Not said yet what the film lies on. The figures count only if it lies on the divider: look first." };
}
