// A set of sheet holders: each side against the published depth with its interval, which to keep together, where the film lies.

import type { Catalogue } from "./catalogue.ts";
import { againstStandard, setDepth, type SetDepth } from "./holder_depth.ts";
import { parsePlace } from "./ids.ts";
import { difference, type Figure, figure, plainNumber, sideOf, standardU } from "./uncertainty.ts";

type Standards = Pick<Catalogue, "standards">;

export interface MeasuredSide {
  readonly place: string;
  readonly mean_mm: Figure;
}

/** "cannot_tell": the interval lies over a limit of the published band. */
export type Stand = "within" | "too_deep" | "too_shallow" | "cannot_tell" | "no_standard";

export interface Stands {
  readonly stands: Stand;
  /** Measured less published: positive is too deep. */
  readonly off_mm: Figure | null;
}

export interface Group {
  readonly holders: readonly string[];
  readonly low_mm: number;
  readonly high_mm: number;
  /** The depth a camera would be set to. */
  readonly middle_mm: number;
  readonly spread_mm: number;
}

export interface Kept {
  readonly groups: readonly Group[];
  /** Holders whose own two sides lie further apart than a group may. */
  readonly apart: readonly { readonly holder: string; readonly spread_mm: number }[];
}

/**
 * "within": every side is. "agrees": a side is not, but all are as close together as the standard asks, so a camera set to
 * them works. "strays": they are further apart than that. "outside": a side is not within; whether they agree cannot be told,
 * or there is but one. "cannot_tell": no side is surely outside, and not all are surely within. "no_standard": none is published.
 */
export type SetFit = "within" | "agrees" | "strays" | "outside" | "cannot_tell" | "no_standard";

export interface JudgedSet extends Kept {
  readonly sides: readonly (Stands & { readonly place: string })[];
  readonly fit: SetFit;
  readonly spread_mm: Figure;
  readonly worst: SetDepth["worst"];
}

// Published figures are inches rounded to a micrometre: a side exactly on the limit is within.
const EDGE_MM = 0.0005;
// Where nothing is published for the format: the tolerance of a 4x5 holder. Common practice, no source.
const USUAL_SPAN_MM = 0.178;

/** One side's mean against the published depth of its format. */
export function standOf(meanMm: Figure, format: string | null | undefined, catalogue: Standards): Stands {
  const against = againstStandard(meanMm.value, format, catalogue);
  if (!against) return { stands: "no_standard", off_mm: null };
  const off_mm = figure(against.deviation_mm, standardU(meanMm));
  const give = against.tolerance_mm + EDGE_MM;
  const where = sideOf(off_mm, -give, give);
  return { stands: where === "above" ? "too_deep" : where === "below" ? "too_shallow" : where, off_mm };
}

/** What the sides say of the whole set, and no more than their intervals allow. Throws RangeError without sides. */
export function setFit(sides: readonly MeasuredSide[], format: string | null | undefined, catalogue: Standards): SetFit {
  const spread = spreadOf(sides);
  const stands = sides.map(({ mean_mm }) => standOf(mean_mm, format, catalogue).stands);
  const against = againstStandard(sides[0]!.mean_mm.value, format, catalogue);
  if (!against) return "no_standard";
  if (stands.every((one) => one === "within")) return "within";
  const apart = sideOf(spread, -Infinity, 2 * against.tolerance_mm + EDGE_MM);
  if (apart === "above") return "strays";
  if (stands.every((one) => one === "within" || one === "cannot_tell")) return "cannot_tell";
  return apart === "within" && sides.length > 1 ? "agrees" : "outside";
}

/** Deepest side less shallowest, in mm. Throws RangeError without sides. */
function spreadOf(sides: readonly MeasuredSide[]): Figure {
  if (sides.length === 0) throw new RangeError("a set needs at least one side");
  const means = sides.map(({ mean_mm }) => mean_mm).sort((one, other) => one.value - other.value);
  return means.length > 1 ? difference(means.at(-1)!, means[0]!) : figure(0, 0);
}

/** How far apart sides may lie and still be kept together: one published tolerance, twice as close as the standard asks. */
export function usualSpan(format: string | null | undefined, catalogue: Standards): { span_mm: number; source: string; sureness: string } {
  const standard = catalogue.standards.find((one) => one.quantity === "holder_depth" && one.applies.format === format);
  if (!standard) return { span_mm: USUAL_SPAN_MM, source: "the tolerance of 4 × 5 in; common practice, no source", sureness: "common practice, no source" };
  return { span_mm: standard.tolerance!, source: standard.source, sureness: standard.sureness };
}

/**
 * Which holders may be used as one set: all sides of a group lie within `spanMm`.
 *
 * The largest such group is taken first (of equal ones the closest together), then the largest of what is left. Throws
 * RangeError for a span that is not above 0.
 */
export function keepTogether(sides: readonly MeasuredSide[], spanMm: number): Kept {
  if (spanMm <= 0) throw new RangeError("Sides can only be kept together within a span above 0 mm.");
  const left = new Map<string, { low: number; high: number }>();
  for (const { place, mean_mm: { value } } of sides) {
    const holder = parsePlace(place)["holder"] ?? "";
    const known = left.get(holder) ?? { low: value, high: value };
    left.set(holder, { low: Math.min(known.low, value), high: Math.max(known.high, value) });
  }
  const apart = [...left].filter(([, { low, high }]) => high - low > spanMm + EDGE_MM).map(([holder, { low, high }]) => ({ holder, spread_mm: high - low }));
  for (const { holder } of apart) left.delete(holder);
  const groups: Group[] = [];
  while (left.size > 0) {
    const best = [...left.values()].map(({ low }) => groupFrom(left, low, spanMm)).reduce((one, other) => (better(other, one) ? other : one));
    groups.push(best);
    for (const holder of best.holders) left.delete(holder);
  }
  return { groups, apart };
}

function groupFrom(left: ReadonlyMap<string, { low: number; high: number }>, start: number, spanMm: number): Group {
  const inside = [...left].filter(([, { low, high }]) => low >= start && high <= start + spanMm + EDGE_MM);
  const low_mm = Math.min(...inside.map(([, { low }]) => low));
  const high_mm = Math.max(...inside.map(([, { high }]) => high));
  return { holders: inside.map(([holder]) => holder), low_mm, high_mm, middle_mm: (low_mm + high_mm) / 2, spread_mm: high_mm - low_mm };
}

function better(one: Group, other: Group): boolean {
  if (one.holders.length !== other.holders.length) return one.holders.length > other.holders.length;
  return one.spread_mm !== other.spread_mm ? one.spread_mm < other.spread_mm : one.low_mm < other.low_mm;
}

/** The whole set. Throws RangeError without sides. */
export function judgeSet(sides: readonly MeasuredSide[], format: string | null | undefined, catalogue: Standards, spanMm: number): JudgedSet {
  const whole = setDepth(sides.map(({ place, mean_mm }) => ({ place, mean_mm: mean_mm.value })), format, catalogue);
  return {
    sides: sides.map(({ place, mean_mm }) => ({ place, ...standOf(mean_mm, format, catalogue) })),
    fit: setFit(sides, format, catalogue),
    spread_mm: spreadOf(sides),
    worst: whole.worst,
    ...keepTogether(sides, spanMm),
  };
}

export interface EmulsionDepth {
  /** Film on the divider. */
  readonly lying_mm: number;
  /** Film at the lips. */
  readonly floating_mm: number;
  readonly low_mm: number;
  readonly high_mm: number;
}

/** Where the emulsion may lie, in mm from the seat; film floats in its slot. Throws RangeError for film that does not go in. */
export function emulsionDepth(depthMm: Figure, filmMm: number, slotMm: number): EmulsionDepth {
  if (filmMm <= 0 || filmMm > slotMm) throw new RangeError(`Film of ${plainNumber(filmMm)} mm does not go into a slot of ${plainNumber(slotMm)} mm; check both.`);
  return { lying_mm: depthMm.value - filmMm, floating_mm: depthMm.value - slotMm, low_mm: depthMm.low - slotMm, high_mm: depthMm.high - filmMm };
}
