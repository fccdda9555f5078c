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
}

export interface SetDepth {
  readonly mean_mm: number;
  /** Deepest side less shallowest. */
  readonly spread_mm: number;
  /** The side furthest from the published depth, or from the set's own mean where none is published. */
  readonly worst: { readonly place: string; readonly mean_mm: number };
}

/** One side's points (five are asked for, one is accepted), in mm. Throws RangeError if there are none. */
export function sideDepth(pointsMm: readonly number[]): SideDepth {
  if (pointsMm.length === 0) throw new RangeError("a side needs at least one point");
  return { mean_mm: mean(pointsMm), spread_mm: Math.max(...pointsMm) - Math.min(...pointsMm), n: pointsMm.length };
}

/**
 * A side's mean against the published depth to the divider; null where none is published for the format. Whether it is within
 * hangs on the interval, too: `holder_set.standOf`.
 */
export function againstStandard(meanMm: number, format: string | null | undefined, catalogue: Pick<Catalogue, "standards">): AgainstStandard | null {
  const standard = catalogue.standards.find((one) => one.quantity === "holder_depth" && one.applies.format === format);
  if (!standard || standard.tolerance === null) return null;
  return {
    standard: standard.id,
    value_mm: standard.value,
    tolerance_mm: standard.tolerance,
    deviation_mm: meanMm - standard.value,
  };
}

/** The whole set from its sides' means. Throws RangeError if there are none. Means something only where film lies on the divider. */
export function setDepth(sides: readonly { readonly place: string; readonly mean_mm: number }[], format: string | null | undefined, catalogue: Pick<Catalogue, "standards">): SetDepth {
  const means = sides.map(({ mean_mm }) => mean_mm);
  const { mean_mm, spread_mm } = sideDepth(means);
  const against = means.map((one) => againstStandard(one, format, catalogue));
  const off = means.map((one, index) => Math.abs(against[index]?.deviation_mm ?? one - mean_mm));
  const { place, mean_mm: worstMm } = sides[off.indexOf(Math.max(...off))]!;
  return { mean_mm, spread_mm, worst: { place, mean_mm: worstMm } };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
