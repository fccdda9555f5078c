// Depth of sheet holders: each side's points as one figure, against the published depth of its format, and over the set.

import type { Catalogue } from "./catalogue.ts";

export interface SideDepth {
  readonly mean_mm: number;
  /** Deepest point less shallowest. */
  readonly spread_mm: number;
  readonly n: number;
}

export interface AgainstStandard {
  /** Id of the standard. */
  readonly standard: string;
  readonly value_mm: number;
  readonly tolerance_mm: number;
  /** Measured less published: positive is too deep. */
  readonly deviation_mm: number;
  readonly within: boolean;
}

export interface SetDepth {
  readonly mean_mm: number;
  /** Deepest side less shallowest. */
  readonly spread_mm: number;
  /** The side furthest from the published depth, or from the set's own mean where none is published. */
  readonly worst: { readonly place: string; readonly mean_mm: number };
  /**
   * "within": every side is. "agrees": none need be, but the sides are as close together as the standard asks, so a camera
   * set to them works. "strays": neither. "no_standard": none is published for the format.
   */
  readonly fit: "within" | "agrees" | "strays" | "no_standard";
}

// Published figures are inches rounded to a micrometre: a side exactly on the limit is within.
const EDGE_MM = 0.0005;

/** One side's points (five are asked for, one is accepted), in mm. Throws RangeError if there are none. */
export function sideDepth(pointsMm: readonly number[]): SideDepth {
  if (pointsMm.length === 0) throw new RangeError("a side needs at least one point");
  return { mean_mm: mean(pointsMm), spread_mm: Math.max(...pointsMm) - Math.min(...pointsMm), n: pointsMm.length };
}

/** A side's mean against the published depth to the divider; null where none is published for the format. */
export function againstStandard(meanMm: number, format: string | null | undefined, catalogue: Pick<Catalogue, "standards">): AgainstStandard | null {
  const standard = catalogue.standards.find((one) => one.quantity === "holder_depth" && one.applies.format === format);
  if (!standard || standard.tolerance === null) return null;
  const deviationMm = meanMm - standard.value;
  return {
    standard: standard.id,
    value_mm: standard.value,
    tolerance_mm: standard.tolerance,
    deviation_mm: deviationMm,
    within: Math.abs(deviationMm) <= standard.tolerance + EDGE_MM,
  };
}

/** The whole set from its sides' means. Throws RangeError if there are none. Means something only where film lies on the divider. */
export function setDepth(sides: readonly { readonly place: string; readonly mean_mm: number }[], format: string | null | undefined, catalogue: Pick<Catalogue, "standards">): SetDepth {
  const means = sides.map(({ mean_mm }) => mean_mm);
  const { mean_mm, spread_mm } = sideDepth(means);
  const against = means.map((one) => againstStandard(one, format, catalogue));
  const off = means.map((one, index) => Math.abs(against[index]?.deviation_mm ?? one - mean_mm));
  const { place, mean_mm: worstMm } = sides[off.indexOf(Math.max(...off))]!;
  return { mean_mm, spread_mm, worst: { place, mean_mm: worstMm }, fit: fitOf(against, spread_mm) };
}

function fitOf(against: readonly (AgainstStandard | null)[], spreadMm: number): SetDepth["fit"] {
  const [first] = against;
  if (!first) return "no_standard";
  if (against.every((one) => one?.within)) return "within";
  return spreadMm <= 2 * first.tolerance_mm + EDGE_MM ? "agrees" : "strays";
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
