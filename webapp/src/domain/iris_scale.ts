// Numbers on an iris: which scale a list of marked stops is in, and what f-number a mark stands for.

import type { Catalogue, IrisScale } from "./catalogue.ts";

type Scales = Pick<Catalogue, "iris_scales">;

const NUMBER = /^(?:f\s*[/:]?\s*|us\s*)?([0-9]{1,3}(?:[.,][0-9]{1,2})?)$/;

/** The number of a stop as written ("5.6", "f/8", "6,3", "US 16"); null for what is none. */
export function parseStop(text: string): number | null {
  const typed = NUMBER.exec(text.trim().toLowerCase());
  const number = typed ? Number(typed[1]!.replace(",", ".")) : 0;
  return number > 0 ? number : null;
}

export interface RecognisedScale {
  /** Id of the one scale that fits; null where none does, or several. */
  readonly scale: string | null;
  readonly may_be: readonly string[];
  /** Texts that are no number. */
  readonly odd: readonly string[];
}

/** Which scale marked stops follow, widest first; the first may stand for itself, as the widest opening seldom falls on a mark. */
export function recogniseScale(texts: readonly string[], catalogue: Scales): RecognisedScale {
  const known = texts.map(parseStop).filter((one) => one !== null);
  const may_be = catalogue.iris_scales.filter((scale) => follows(known, scale)).map(({ id }) => id);
  return { scale: may_be.length === 1 ? may_be[0]! : null, may_be, odd: texts.filter((text) => parseStop(text) === null) };
}

function follows(numbers: readonly number[], scale: IrisScale): boolean {
  let places = numbers.map((number) => placeOf(number, scale));
  if (places[0] === -1 && numbers[0]! < (numbers[1] ?? 0)) places = places.slice(1);
  return places.length >= 2 && places.every((place, index) => place !== -1 && (index === 0 || place === places[index - 1]! + 1));
}

function placeOf(number: number, scale: IrisScale): number {
  return scale.marks.findIndex(({ texts }) => texts.some((text) => parseStop(text) === number));
}

/** The exact f-number a mark stands for: 5.6 is 5.6569, US 16 is 16. A mark that its scale does not have stands for itself. */
export function stopNumber(text: string, scaleId: string, catalogue: Scales): number {
  const number = parseStop(text);
  const scale = catalogue.iris_scales.find((one) => one.id === scaleId);
  if (number === null || !scale) throw new RangeError("Type a stop as it is marked, as in 5.6, and choose its scale.");
  return scale.marks[placeOf(number, scale)]?.n ?? (scale.counts_exposure ? 4 * Math.sqrt(number) : number);
}
