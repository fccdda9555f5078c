// Readings of a report: as typed, with the instrument, held against a published figure where there is one and it is named.

import type { Catalogue, Check, ReadingKind, Standard } from "./catalogue.ts";
import { applicable } from "./checks.ts";
import { parseLength } from "./lengths.ts";
import type { ReportPiece, ReportReading } from "./report_records.ts";
import { byKey, GAP, placeWords, titleOf } from "./report_words.ts";
import { fixed } from "./rounding.ts";

type Shared = Pick<Catalogue, "checks" | "terms" | "standards">;
type Typed = NonNullable<ReportReading["typed"]>;

const DEPTH = "holder_depth";
const NO_FIGURE = "no published figure here";
const UNITS: Readonly<Record<string, string>> = { count: "", text: "", celsius: "°C" };

/** The readings in the order of the catalogue, without the holder depths, which have a table of their own. */
export function readingsTable(piece: ReportPiece, readings: readonly ReportReading[], catalogue: Shared) {
  return applicable(piece, catalogue).flatMap((check) =>
    check.readings.filter((kind) => !isDepthOfHolder(kind)).flatMap((kind) =>
      readings
        .filter((one) => one.check === check.id && one.reading === kind.id && one.typed)
        .sort(byKey((one) => [0, one.place ?? ""]))
        .map((one) => rowOf(check, kind, one, piece, catalogue)),
    ),
  );
}

/** Whether the reading is one point of one side of a holder. */
export function isDepthOfHolder(kind: Pick<ReadingKind, "standard" | "axes">): boolean {
  return kind.standard === DEPTH && kind.axes.includes("holder");
}

/** What was typed, in mm; null where it is no length. */
export function lengthMm(typed: Typed): number | null {
  if (typed.unit !== "mm" && typed.unit !== "in") return null;
  try {
    return parseLength(typed.text, typed.unit);
  } catch {
    return null;
  }
}

/** The figure exactly as it was typed, with its unit where it has one. */
export function typedWords(typed: Typed): string {
  const unit = UNITS[typed.unit] ?? typed.unit;
  const text = typed.text.trim();
  return unit && !text.endsWith(unit) ? `${text}${GAP}${unit}` : text;
}

/** "caliper, read to 0.05 mm"; "instrument not noted" where nobody said. */
export function instrumentWords({ instrument }: ReportReading, catalogue: Pick<Catalogue, "terms">): string {
  const title = titleOf(catalogue.terms.instruments, instrument?.kind, instrument?.kind ?? "");
  if (title === "") return "instrument not noted";
  return title.toLowerCase() + (instrument?.resolution_mm ? `, read to ${instrument.resolution_mm}${GAP}mm` : "");
}

function rowOf(check: Check, kind: ReadingKind, reading: ReportReading, piece: ReportPiece, catalogue: Shared) {
  const mm = lengthMm(reading.typed!);
  const standard = mm === null ? null : nearest(kind, piece, mm, catalogue);
  return {
    what: `${check.title}: ${kind.title[0]!.toLowerCase()}${kind.title.slice(1)}`,
    where: placeWords(reading.place ?? "", catalogue),
    figure: typedWords(reading.typed!),
    instrument: instrumentWords(reading, catalogue),
    standard: standard && { as_printed: standard.as_printed, source: standard.source, sureness: standard.sureness },
    standard_words: standard ? stands(standard, mm!) : kind.standard ? NO_FIGURE : "",
  };
}

/** The published figure for this reading of this piece. */
function nearest(kind: ReadingKind, piece: ReportPiece, mm: number, catalogue: Shared): Standard | null {
  const fitting = catalogue.standards.filter((one) => one.quantity === kind.standard && (!one.applies.format || one.applies.format === piece.format));
  return fitting.reduce<Standard | null>((best, one) => (!best || Math.abs(one.value - mm) < Math.abs(best.value - mm) ? one : best), null);
}

/** How the reading stands to it. */
function stands({ quantity, value, tolerance, unit, applies }: Standard, mm: number): string {
  if (unit !== "mm") return "for comparison";
  if (quantity.endsWith("_max")) return mm <= value ? "within" : `${fixed(mm - value, 2)}${GAP}mm more`;
  if (quantity.endsWith("_min")) return mm >= value ? "within" : `${fixed(value - mm, 2)}${GAP}mm less`;
  if (quantity === "board_hole") return Math.abs(mm - value) <= 1 ? `nearest to size ${applies.shutter_size}` : "no usual shutter size";
  if (tolerance === null || quantity === DEPTH) return "for comparison";
  return Math.abs(mm - value) <= tolerance ? "within" : "beyond";
}
