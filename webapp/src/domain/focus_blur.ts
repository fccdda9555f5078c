// Blur from a focus error: the circle of confusion a person chooses, blur at each stop, and the stop at which it is gone.

import type { Catalogue } from "./catalogue.ts";
import { type Figure, positive } from "./uncertainty.ts";

export interface Circle {
  readonly mm: number;
  readonly as_printed: string;
  readonly source: string;
  readonly sureness: string;
}

export interface BlurRow {
  /** f-number. */
  readonly n: number;
  readonly blur_mm: Figure;
  readonly gone: "yes" | "no" | "perhaps";
}

export interface GoneAt {
  /** The f-number |e|/c. */
  readonly n: Figure;
  /** First marked stop at which it is gone by the value; null where the scale does not reach so far. */
  readonly likely: number | null;
  /** The same by the whole interval. */
  readonly surely: number | null;
}

const EDGE_MM = 1e-9;
const MOST_N = 1024;
const CIRCLE = "The circle of confusion, in mm,";

/** The largest disc that still counts as a point, by the id of a convention among the standards. */
export function circleOfConfusion(format: string, convention: string, catalogue: Pick<Catalogue, "formats" | "standards">): Circle {
  const found = catalogue.formats.find((one) => one.id === format);
  const rule = catalogue.standards.find((one) => one.id === convention && one.quantity.startsWith("circle_of_confusion"));
  if (!found || !rule) throw new RangeError("Choose a format and a circle of confusion.");
  const mm = rule.unit === "mm" ? rule.value : Math.hypot(found.width_mm, found.height_mm) / rule.value;
  return { mm, as_printed: rule.as_printed, source: rule.source, sureness: rule.sureness };
}

/** The disc on film at each f-number: |e|/N. */
export function blurAt(errorMm: Figure, stops: readonly number[], circleMm: number): BlurRow[] {
  positive(circleMm, CIRCLE, 1);
  const { least, most } = sizeOf(errorMm);
  return stops.map((n) => {
    positive(n, "An f-number", MOST_N);
    const blur_mm = { value: Math.abs(errorMm.value) / n, low: least / n, high: most / n };
    return { n, blur_mm, gone: blur_mm.high <= circleMm + EDGE_MM ? "yes" : blur_mm.low > circleMm + EDGE_MM ? "no" : "perhaps" };
  });
}

/** The f-number from which an error no longer shows, and the first of the marked `stops` there. */
export function goneAt(errorMm: Figure, stops: readonly number[], circleMm: number): GoneAt {
  positive(circleMm, CIRCLE, 1);
  const { least, most } = sizeOf(errorMm);
  const n = { value: Math.abs(errorMm.value) / circleMm, low: least / circleMm, high: most / circleMm };
  const marked = [...stops].sort((one, other) => one - other);
  const from = (limit: number) => marked.find((one) => one >= limit - EDGE_MM) ?? null;
  return { n, likely: from(n.value), surely: from(n.high) };
}

function sizeOf({ low, high }: Figure): { least: number; most: number } {
  return { least: low <= 0 && high >= 0 ? 0 : Math.min(Math.abs(low), Math.abs(high)), most: Math.max(Math.abs(low), Math.abs(high)) };
}

/** How far film may lie before or behind the sharp plane: N·c, in mm on each side. */
export function depthOfFocusMm(n: number, circleMm: number): number {
  return positive(n, "An f-number", MOST_N) * positive(circleMm, CIRCLE, 1);
}

/** The distance f²/(N·c), in mm, focused on which all beyond is still sharp. */
export function hyperfocalMm(focalMm: number, n: number, circleMm: number): number {
  return positive(focalMm, "The focal length, in mm,", 3000) ** 2 / depthOfFocusMm(n, circleMm);
}
