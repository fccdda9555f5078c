// Words and signs for fit and for the facts of a kit, shared by its screens.
import type { Catalogue, Measure } from "../../domain/catalogue.ts";
import type { Facts } from "../../domain/kit_facts.ts";
import type { Fitted } from "../../domain/kit_fit.ts";
import type { Fit } from "../../domain/kit_rules.ts";
import { type LengthUnit, showLength } from "../../domain/lengths.ts";
import type { Tone } from "../../ui/mark.tsx";

export const FITS: Readonly<Record<Fit, { word: string; tone: Tone }>> = {
  fits: { word: "Fits", tone: "good" },
  fits_if: { word: "Fits if", tone: "worn" },
  does_not_fit: { word: "Does not fit", tone: "bad" },
  not_known: { word: "Not known", tone: "unsure" },
};

export const ABOUT: Readonly<Record<string, string>> = {
  covers: "Coverage", infinity: "Reach", board: "Board", passes: "Rear group", film: "Film", seats: "Seat", focuses: "Focus", hole: "Hole",
};

export const KINDS: readonly { id: string; title: string }[] = [
  { id: "camera", title: "Camera" }, { id: "lens", title: "Lens" }, { id: "holders", title: "Holders" }, { id: "other", title: "Lens board" },
];

/** "1 fits, 2 fit if, 1 does not, 3 not known": only what there is. */
export function countWords(found: readonly Pick<Fitted, "verdict">[]): string {
  const count = (verdict: Fit) => found.filter((one) => one.verdict === verdict).length;
  const parts = [[count("fits"), "fits"], [count("fits_if"), "fits if"], [count("does_not_fit"), "does not fit"], [count("not_known"), "not known"]] as const;
  return parts.filter(([number]) => number > 0).map(([number, word]) => `${number} ${word}`).join(", ");
}

/** What a fact may be, where it is one of a list. */
export function choicesOf(measure: Measure, catalogue: Catalogue): { value: string; label: string }[] {
  if (measure.id === "format" || measure.id === "film_size") return catalogue.formats.map(({ id, title }) => ({ value: id, label: title }));
  const named = measure.id === "registers_on" ? catalogue.terms.registers_on : [];
  return (measure.terms ?? []).map((term) => ({ value: term, label: named.find(({ id }) => id === term)?.title ?? term.charAt(0).toUpperCase() + term.slice(1) }));
}

/** The facts of a thing that may be typed or picked; an outside size follows from the film size. */
export function askedOf(kind: string, { measures }: Pick<Catalogue, "measures">): Measure[] {
  return measures.filter((one) => one.kinds.includes(kind) && one.id !== "family");
}

/** "Focal length 210 mm, Image circle 300 mm": the first few facts known. */
export function factWords(kind: string, facts: Facts, catalogue: Catalogue, unit: LengthUnit): string {
  const known = askedOf(kind, catalogue).filter(({ id }) => facts[id] !== undefined && facts[id] !== null);
  return known.slice(0, 3).map((one) => {
    const value = facts[one.id]!;
    return `${one.title} ${typeof value === "number" ? showLength(value, unit) : choicesOf(one, catalogue).find((choice) => choice.value === value)?.label ?? String(value)}`;
  }).join(", ");
}
