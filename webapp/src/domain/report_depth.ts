// Depth of the holders in a report: a line a side against the published depth, the set as a whole, and what it means.

import type { Catalogue } from "./catalogue.ts";
import { applicable } from "./checks.ts";
import { holderChart } from "./holder_chart.ts";
import { againstStandard, setDepth, sideDepth } from "./holder_depth.ts";
import { holderSvgs, STANDS } from "./holder_picture.ts";
import { type SetFit, setFit, standOf } from "./holder_set.ts";
import { parsePlace, placeText } from "./ids.ts";
import { instrumentWords, isDepthOfHolder, lengthMm } from "./report_readings.ts";
import type { ReportPiece, ReportReading } from "./report_records.ts";
import { byKey, distinct, GAP, placeWords } from "./report_words.ts";
import { fixed } from "./rounding.ts";
import { type Figure, type Instrument, instrumentU, meanFigure } from "./uncertainty.ts";

type Shared = Pick<Catalogue, "checks" | "terms" | "standards">;

const SET_WORDS: Readonly<Record<SetFit, string>> = {
  within: "Every side measured lies within the published depth.",
  agrees: "Not every side lies within the published depth, but the sides agree among themselves: a camera whose screen is set to them works.",
  strays: "The sides neither keep the published depth nor agree among themselves: the worst ones focus apart from the others.",
  outside: "Not every side lies within the published depth; whether the sides agree among themselves cannot be told with this measurement.",
  cannot_tell: "Whether every side lies within the published depth cannot be told with this measurement: its range lies over a limit.",
  no_standard: "There is no published figure here for this format; the sides can only be compared with each other.",
};
const ONE_SIDE = "One side alone was measured, and it does not lie within the published depth. Nothing is said of the others.";
const NO_TOOL = "It was not noted what was measured with, so there is no range, and whether the sides lie within the published depth cannot be told.";
const CANNOT_TELL = "cannot be told with this measurement";
const ELSEWHERE = "These holders do not carry the film on the divider, so a depth to the divider says nothing about focus.";
const UNNUMBERED = 1_000_000;

/** Null where no depth was measured. */
export function depthSection(piece: ReportPiece, readings: readonly ReportReading[], catalogue: Shared) {
  const used = depthReadings(piece, readings, catalogue);
  const sides = sidesOf(used).map(({ place, points }) => ({ place, points, mean: meanOf(place, points, used, catalogue) }));
  if (sides.length === 0) return null;
  const onDivider = [undefined, null, "divider"].includes(piece.holders?.registers_on);
  const format = onDivider ? piece.format : null;
  const whole = setDepth(sides.map(({ place, points }) => ({ place, mean_mm: sideDepth(points).mean_mm })), format, catalogue);
  const standard = catalogue.standards.find((one) => one.quantity === "holder_depth" && one.applies.format === (format ?? null));
  const counts = sides.map(({ points }) => points.length);
  const rows = sides.map((side) => rowOf(side, format, catalogue));
  return {
    rows,
    set_words: onDivider ? setWords(rows, sides, format, catalogue) : ELSEWHERE,
    spread: `${fixed(whole.spread_mm, 3)}${GAP}mm between the deepest and the shallowest side`,
    worst: `furthest off: ${placeWords(whole.worst.place, catalogue)}`,
    standard: standard ? { as_printed: standard.as_printed, source: standard.source, sureness: standard.sureness } : null,
    instruments: distinct(used.map((one) => instrumentWords(one, catalogue))).join("; "),
    charts: chartsOf(sides, format, catalogue),
    points: pointsWords(Math.min(...counts), Math.max(...counts)),
  };
}

function setWords(rows: readonly { outside: boolean; words: string }[], sides: readonly { place: string; mean: Figure | null }[], format: string | null | undefined, catalogue: Shared): string {
  if (rows.length === 1 && rows[0]!.outside) return ONE_SIDE;
  const known = sides.flatMap(({ place, mean }) => (mean ? [{ place, mean_mm: mean }] : []));
  if (known.length < sides.length && rows[0]!.words) return NO_TOOL;
  return SET_WORDS[known.length > 0 ? setFit(known, format, catalogue) : "no_standard"];
}

function depthReadings(piece: ReportPiece, readings: readonly ReportReading[], catalogue: Shared): ReportReading[] {
  const kinds = applicable(piece, catalogue).flatMap((check) => check.readings.filter(isDepthOfHolder).map(({ id }) => `${check.id} ${id}`));
  return readings.filter((one) => one.typed && kinds.includes(`${one.check} ${one.reading}`));
}

/** Each side with its points in mm, in the order of the holders. */
function sidesOf(readings: readonly ReportReading[]): { place: string; points: number[] }[] {
  const found = new Map<string, number[]>();
  for (const reading of [...readings].sort(byKey((one) => [0, one.place ?? ""]))) {
    const mm = lengthMm(reading.typed!);
    const { point: _, ...axes } = parsePlace(reading.place ?? "");
    if (mm !== null) found.set(placeText(axes), [...(found.get(placeText(axes)) ?? []), mm]);
  }
  return [...found].map(([place, points]) => ({ place, points })).sort(byKey(({ place }) => [numberOf(place), place]));
}

/** The mean of a side with its interval, in mm; null where its instrument is not known, as then there is no interval. */
function meanOf(place: string, points: readonly number[], used: readonly ReportReading[], catalogue: Shared): Figure | null {
  const tools = toolsOf(place, used, catalogue);
  return tools && meanFigure(points, tools.reduce((worst, one) => (instrumentU(one) > instrumentU(worst) ? one : worst)));
}

/** The chart of the set; none where a side has no interval. */
function chartsOf(sides: readonly { place: string; mean: Figure | null }[], format: string | null | undefined, catalogue: Shared): string[] {
  const known = sides.flatMap(({ place, mean }) => (mean ? [{ place, label: labelOf(place), mean_mm: mean }] : []));
  if (known.length < sides.length) return [];
  const depths = Object.fromEntries(known.map(({ label, mean_mm: mean }) => [label, `${fixed(mean.value, 3)} mm`]));
  return holderSvgs(holderChart(known, format, catalogue, "mm"), depths, "mm");
}

/** What a side was read with, as noted and else as usual; null where one is not known. */
function toolsOf(place: string, used: readonly ReportReading[], { terms }: Shared): Instrument[] | null {
  const side = Object.entries(parsePlace(place));
  const tools = used.filter((one) => side.every(([axis, value]) => parsePlace(one.place ?? "")[axis] === value)).map(({ instrument }) => {
    const usual = terms.instruments.find(({ id }) => id === instrument?.kind);
    return { resolution_mm: instrument?.resolution_mm || usual?.resolution_mm, repeatability_mm: usual?.repeatability_mm };
  });
  return tools.every(({ resolution_mm: step }) => step) ? tools : null;
}

function labelOf(place: string): string {
  const axes = parsePlace(place);
  return [axes["holder"] ?? "", (axes["side"] ?? "").toUpperCase()].filter((words) => words !== "").join(" ");
}

function numberOf(place: string): number {
  const holder = parsePlace(place)["holder"] ?? "";
  return /^\d+$/.test(holder) ? Number(holder) : UNNUMBERED;
}

function rowOf({ place, points, mean }: { place: string; points: readonly number[]; mean: Figure | null }, format: string | null | undefined, catalogue: Shared) {
  const side = sideDepth(points);
  const doubt = mean ? ` ± ${fixed((mean.high - mean.low) / 2, 3)}` : "";
  const against = againstStandard(side.mean_mm, format, catalogue);
  const off = against ? fixed(against.deviation_mm, 3).replace("-", "−") : "";
  const stands = !against ? "no_standard" : mean ? standOf(mean, format, catalogue).stands : "cannot_tell";
  return {
    place: placeWords(place, catalogue),
    mean: `${fixed(side.mean_mm, 3)}${doubt}${GAP}mm`,
    spread: side.n > 1 ? `${fixed(side.spread_mm, 3)}${GAP}mm` : "one point",
    n: side.n,
    off: against && against.deviation_mm > 0 && off !== "0.000" ? `+${off}` : off,
    outside: stands === "too_deep" || stands === "too_shallow",
    words: stands === "cannot_tell" ? CANNOT_TELL : STANDS[stands],
  };
}

function pointsWords(least: number, most: number): string {
  return least === most ? `${most} ${most === 1 ? "point" : "points"} a side` : `${least} to ${most} points a side`;
}
