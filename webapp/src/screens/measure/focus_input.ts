// What screen-and-film needs from the person, as typed text, and what the domain makes of it; figures of a session are readings.
import type { Catalogue } from "../../domain/catalogue.ts";
import { filmPlane, focusError, type FocusError, screenDepth, type Sheet } from "../../domain/focus.ts";
import { circleOfConfusion, type Circle } from "../../domain/focus_blur.ts";
import { type LengthUnit, parseLength, plausible } from "../../domain/lengths.ts";
import { type Figure, figure, type Instrument, meanFigure, positive, standardU } from "../../domain/uncertainty.ts";
import type { Asking } from "./plan.ts";

export type Between = "nothing" | "fresnel" | "clear_sheet" | "reversed";

/** Everything chosen and typed, by name; lengths are in `unit` as they stand. */
export interface FocusWords {
  readonly unit: LengthUnit;
  readonly format: string;
  /** Depths of the screen, one or several points. */
  readonly screen: readonly string[];
  readonly tool: string;
  readonly between: Between;
  readonly measured_to: "matte" | "front";
  readonly sheet: string;
  readonly index: string;
  /** "standard", or a depth typed. */
  readonly divider_from: "standard" | "typed";
  readonly divider: string;
  readonly film: string;
  readonly circle: string;
}

export interface FocusResult {
  readonly screen_mm: Figure;
  readonly film_mm: Figure;
  readonly found: FocusError;
  readonly circle: Circle;
  readonly layers: readonly (Sheet & { readonly shift_mm: number })[];
}

/** Name of a field -> what is wrong with it, in words for the person. */
export type Wrong = Readonly<Record<string, string | undefined>>;

export const USUAL_INDEX: Readonly<Record<Between, string>> = { nothing: "", fresnel: "1.49", clear_sheet: "1.49", reversed: "1.52" };

const MEASURES: Readonly<Record<string, string>> = { screen: "glass_depth_mm", sheet: "sheet_mm", divider: "depth_mm", film: "film_mm" };

/** What to ask about a length: null where it may well be, or where nothing is typed yet. */
export function doubtOf(field: string, text: string, unit: LengthUnit, { measures }: Catalogue): Asking | null {
  if (text.trim() === "") return null;
  try {
    const doubt = plausible(measures.find((one) => one.id === MEASURES[field])!, parseLength(text, unit));
    return doubt && { ...doubt, keep: true };
  } catch (error) {
    return { message: (error as Error).message, keep: false };
  }
}

/** A figure that carries its unit with it, so that another unit on the screen does not change what was typed. */
export function withUnit(text: string, unit: LengthUnit): string {
  return /[0-9]\s*$/.test(text) ? `${text.trim()} ${unit}` : text;
}

/** The same words where every bare figure carries the unit it was typed in. */
export function unitsKept(words: FocusWords): FocusWords {
  const { unit, screen, sheet, divider } = words;
  return { ...words, screen: screen.map((one) => withUnit(one, unit)), sheet: withUnit(sheet, unit), divider: withUnit(divider, unit) };
}

/** The published depth of the format's holders, its tolerance spread evenly; null where none is published. */
export function standardDivider(format: string, { standards }: Pick<Catalogue, "standards">): Figure | null {
  const found = standards.find((one) => one.quantity === "holder_depth" && one.applies.format === format);
  return found ? figure(found.value, (found.tolerance ?? 0) / Math.sqrt(3)) : null;
}

/** Null while something is still to be typed; else the result, or what is wrong by field. */
export function focusOf(words: FocusWords, catalogue: Catalogue): { result: FocusResult } | { wrong: Wrong } | null {
  const typed = words.screen.filter((one) => one.trim() !== "");
  const instrument = catalogue.terms.instruments.find(({ id }) => id === words.tool) ?? catalogue.terms.instruments[0]!;
  const sheeted = words.between !== "nothing";
  if (typed.length === 0 || (sheeted && (!words.sheet.trim() || !words.index.trim())) || (words.divider_from === "typed" && !words.divider.trim()) || !words.film.trim()) return null;
  let field = "screen";
  try {
    const measured = meanFigure(typed.map((one) => parseLength(one, words.unit)), instrument);
    field = "sheet";
    const layers: Sheet[] = sheeted ? [{ thickness_mm: parseLength(words.sheet, words.unit), index: indexOf(words.index, () => { field = "index"; }) }] : [];
    const screen = screenDepth(measured, words.between === "reversed" ? "front" : words.measured_to, layers);
    field = "divider";
    const divider = dividerOf(words, instrument, catalogue);
    field = "film";
    const film_mm = filmPlane(divider, parseLength(words.film, "mm"));
    field = "circle";
    const circle = circleOfConfusion(words.format, words.circle, catalogue);
    const shifted = layers.map((one, index) => ({ ...one, shift_mm: screen.layers[index]!.shift_mm }));
    return { result: { screen_mm: screen.optical_mm, film_mm, found: focusError(screen.optical_mm, film_mm), circle, layers: shifted } };
  } catch (error) {
    return { wrong: { [field]: (error as Error).message } };
  }
}

function indexOf(text: string, at: () => void): number {
  at();
  const index = Number(text.replace(",", "."));
  if (!Number.isFinite(index)) throw new RangeError("Type an index as a number, as in 1.52.");
  return index;
}

function dividerOf(words: FocusWords, instrument: Instrument, catalogue: Catalogue): Figure {
  if (words.divider_from === "typed") return meanFigure([positive(parseLength(words.divider, words.unit), "The depth to the divider, in mm,", 60)], instrument);
  const published = standardDivider(words.format, catalogue);
  if (!published) throw new RangeError("No depth is published for this format: measure a holder and type its depth.");
  return published;
}

/** Whether the holder's tolerance, rather than the measuring, makes up most of the interval. */
export function mostlyTolerance(words: FocusWords, { screen_mm, film_mm }: FocusResult): boolean {
  return words.divider_from === "standard" && standardU(film_mm) > standardU(screen_mm);
}
