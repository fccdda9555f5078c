// A figure with its interval in words, with as many decimals as its uncertainty allows.
import type { Catalogue } from "../../domain/catalogue.ts";
import { type LengthUnit, MM_PER_INCH } from "../../domain/lengths.ts";
import { fixed } from "../../domain/rounding.ts";
import type { Figure } from "../../domain/uncertainty.ts";

const MINUS = "−";

/** "5.02 ± 0.03 mm"; the interval is about 95 in 100. `signed` writes + before what is above 0. */
export function lengthWords(one: Figure, unit: LengthUnit, { signed = false } = {}): string {
  const scale = unit === "in" ? MM_PER_INCH : 1;
  const half = (one.high - one.low) / 2 / scale;
  const digits = half < (unit === "in" ? 0.002 : 0.05) ? (unit === "in" ? 4 : 3) : half < 1 ? (unit === "in" ? 3 : 2) : 1;
  const value = fixed(one.value / scale, digits);
  return `${signed && one.value > 0 ? "+" : ""}${value.replace("-", MINUS)} ± ${fixed(half, digits)} ${unit}`;
}

/** A length without an interval: "0.12 mm". */
export function plainWords(mm: number, unit: LengthUnit): string {
  return unit === "in" ? `${fixed(mm / MM_PER_INCH, 3)} in` : `${fixed(mm, 2)} mm`;
}

/** An f-number as it is marked, where it is one of the whole stops ("f/5.6" for 5.657), else as it comes out ("f/5.2"). */
export function stopWords(n: number, catalogue: Pick<Catalogue, "iris_scales">): string {
  const mark = catalogue.iris_scales.find(({ id }) => id === "f")!.marks.find((one) => Math.abs(one.n - n) < 0.001 * n);
  return `f/${mark?.texts[0] ?? fixed(n, n < 9.95 ? 1 : 0)}`;
}
