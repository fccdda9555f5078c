// Chart of a set of holders: one line a side, depth across, the published band behind; plain geometry for screen and report.

import type { Catalogue } from "./catalogue.ts";
import { againstStandard } from "./holder_depth.ts";
import { type MeasuredSide, type Stand, standOf } from "./holder_set.ts";
import { type LengthUnit, MM_PER_INCH } from "./lengths.ts";
import { fixed, halfAway } from "./rounding.ts";

export interface HolderChart {
  readonly width: number;
  readonly height: number;
  readonly top: number;
  readonly bottom: number;
  readonly band: { readonly x: number; readonly width: number } | null;
  /** Where the published depth lies. */
  readonly middle: number | null;
  readonly ticks: readonly { readonly x: number; readonly label: string }[];
  readonly rows: readonly { readonly label: string; readonly y: number; readonly x: number; readonly x_low: number; readonly x_high: number; readonly stands: Stand }[];
}

const WIDTH = 360;
const LEFT = 56;
const RIGHT = 350;
export const TOP = 12;
export const ROW = 22;
const STEPS = { mm: [0.05, 0.1, 0.2, 0.5, 1, 2, 5], in: [0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2] };

/** Geometry in units of the drawing. Throws RangeError without sides. */
export function holderChart(sides: readonly (MeasuredSide & { readonly label: string })[], format: string | null | undefined, catalogue: Pick<Catalogue, "standards">, unit: LengthUnit): HolderChart {
  const [first] = sides;
  if (!first) throw new RangeError("Type the depth of at least one side.");
  const against = againstStandard(first.mean_mm.value, format, catalogue);
  const ends = sides.flatMap(({ mean_mm: { low, high } }) => [low, high]);
  if (against) ends.push(against.value_mm - against.tolerance_mm, against.value_mm + against.tolerance_mm);
  const room = Math.max(0.05, (Math.max(...ends) - Math.min(...ends)) * 0.06);
  const low = Math.min(...ends) - room;
  const high = Math.max(...ends) + room;
  const x = (mm: number) => halfAway(LEFT + ((RIGHT - LEFT) * (mm - low)) / (high - low), 1);
  const bottom = TOP + ROW * sides.length + 6;
  return {
    width: WIDTH,
    height: bottom + 26,
    top: TOP - 4,
    bottom,
    band: against && { x: x(against.value_mm - against.tolerance_mm), width: halfAway((2 * against.tolerance_mm * (RIGHT - LEFT)) / (high - low), 1) },
    middle: against && x(against.value_mm),
    ticks: ticksOf(low, high, unit).map(([mm, label]) => ({ x: x(mm), label })),
    rows: sides.map(({ label, mean_mm }, index) => ({
      label, y: TOP + ROW * index + ROW / 2, x: x(mean_mm.value), x_low: x(mean_mm.low), x_high: x(mean_mm.high), stands: standOf(mean_mm, format, catalogue).stands,
    })),
  };
}

/** At most five round figures of the unit. */
function ticksOf(lowMm: number, highMm: number, unit: LengthUnit): [number, string][] {
  const scale = unit === "in" ? MM_PER_INCH : 1;
  const [low, high] = [lowMm / scale, highMm / scale];
  const step = STEPS[unit].find((one) => (high - low) / one <= 5) ?? STEPS[unit].at(-1)!;
  const ticks: [number, string][] = [];
  for (let number = Math.ceil(low / step); number <= Math.floor(high / step); number += 1) ticks.push([number * step * scale, fixed(number * step, unit === "in" ? 3 : 2)]);
  return ticks;
}
