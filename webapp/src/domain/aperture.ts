// The f-number of a lens from its entrance pupil, against the stop that is marked, in stops with its interval.

import type { Catalogue } from "./catalogue.ts";
import { type Figure, figure, positive, standardU } from "./uncertainty.ts";

type Standards = Pick<Catalogue, "standards">;

export interface ApertureError {
  /** Positive is less light than marked. */
  readonly stops: Figure;
  /** "agrees": within what real marked stops differ by (standard `aperture_marking`). */
  readonly judged: "agrees" | "less_light" | "more_light" | "cannot_tell";
}

const LONGEST_MM = 3000;
const FOCAL = "The focal length, in mm,";

function toleranceOf(id: string, { standards }: Standards): number {
  return standards.find((one) => one.id === id)!.tolerance!;
}

/** A focal length nobody measured, in mm: the mark, spread evenly over what marking allows (standard `focal_length_marking`). */
export function focalFigure(markedMm: number, catalogue: Standards): Figure {
  positive(markedMm, FOCAL, LONGEST_MM);
  return figure(markedMm, (markedMm * toleranceOf("focal_length_marking", catalogue)) / 100 / Math.sqrt(3));
}

/** f over the diameter of the entrance pupil as seen from the front. Throws RangeError for figures that are not above 0. */
export function fNumber(focalMm: Figure, pupilMm: Figure): Figure {
  const focal = positive(focalMm.value, FOCAL, LONGEST_MM);
  const pupil = positive(pupilMm.value, "The pupil, in mm,", 1000);
  const n = focal / pupil;
  return figure(n, n * Math.hypot(standardU(focalMm) / focal, standardU(pupilMm) / pupil));
}

/** A measured f-number against what its mark stands for: 2·log2(N/marked). */
export function apertureError(measuredN: Figure, markedN: number, catalogue: Standards): ApertureError {
  positive(markedN, "A marked stop", 1024);
  if (measuredN.low <= 0) throw new RangeError("The pupil is known too roughly to say anything; measure it with something finer.");
  const inStops = (n: number) => 2 * Math.log2(n / markedN);
  const stops = { value: inStops(measuredN.value), low: inStops(measuredN.low), high: inStops(measuredN.high) };
  const give = Math.log2(1 + toleranceOf("aperture_marking", catalogue) / 100);
  if (stops.low > give) return { stops, judged: "less_light" };
  if (stops.high < -give) return { stops, judged: "more_light" };
  return { stops, judged: -give <= stops.low && stops.high <= give ? "agrees" : "cannot_tell" };
}

/** By how many stops every mark is out if the scale was made for another focal length; positive is less light than marked. */
export function scaleOfOtherLens(scaleFocalMm: number, lensFocalMm: number): number {
  positive(scaleFocalMm, "The focal length of the scale, in mm,", LONGEST_MM);
  return 2 * Math.log2(positive(lensFocalMm, FOCAL, LONGEST_MM) / scaleFocalMm);
}

/** The diameter, in mm, of the round hole that lets as much light through. */
export function equivalentDiameter(areaMm2: number): number {
  return 2 * Math.sqrt(positive(areaMm2, "The area of the opening, in mm²,", 1e6) / Math.PI);
}

/** The area, in mm², of a regular opening of so many straight edges, from the diameter of the circle through its corners. */
export function polygonArea(leaves: number, cornerToCornerMm: number): number {
  if (!(leaves >= 3 && leaves <= 60)) throw new RangeError("An opening has from 3 to 60 edges; count them again.");
  const radius = positive(cornerToCornerMm, "The opening from corner to corner, in mm,", 1000) / 2;
  return (leaves * radius ** 2 * Math.sin((2 * Math.PI) / leaves)) / 2;
}

/** The area, in mm², of an oval opening from its two diameters. */
export function slotArea(lengthMm: number, widthMm: number): number {
  return (Math.PI * positive(lengthMm, "The longer diameter, in mm,", 1000) * positive(widthMm, "The shorter diameter, in mm,", 1000)) / 4;
}
