// Words of a condition report: days, times, stops and places as a reader on paper wants them.

import type { Catalogue } from "./catalogue.ts";
import { parsePlace } from "./ids.ts";
import { fixed } from "./rounding.ts";

export interface Moment {
  readonly ms: number;
  readonly offset_min?: number;
}

interface Term {
  readonly id: string;
  readonly title: string;
}

type Terms = Pick<Catalogue, "terms">;

const MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];
const MS_UP_TO_S = 0.2995;
export const GAP = "\u00a0";

/** "2026-09-12" as "12 September 2026"; "" where none is known. Throws RangeError for what is no day. */
export function dayWords(day: string | null | undefined): string {
  if (!day) return "";
  const known = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  const month = known && MONTHS[Number(known[2]) - 1];
  if (!known || !month) throw new RangeError(`not a day: ${day}`);
  return `${Number(known[3])} ${month} ${Number(known[1])}`;
}

/** The local day of a moment in words; "" where none is known. */
export function momentDay(moment: Moment | null | undefined): string {
  if (!moment) return "";
  const local = new Date((Math.floor(moment.ms / 60_000) + (moment.offset_min ?? 0)) * 60_000);
  return dayWords(local.toISOString().slice(0, 10));
}

/** "1.68 s", "41.2 ms": three figures, which is more than sound can promise and enough to compute with. */
export function timeWords(seconds: number): string {
  if (seconds >= MS_UP_TO_S) return `${fixed(seconds, 2)}${GAP}s`;
  const ms = seconds * 1000;
  return `${fixed(ms, ms >= 99.95 ? 0 : 1)}${GAP}ms`;
}

/** "+0.28" is longer and gives more light, "−0.10" less, with a true minus; "0.00" has no sign. */
export function stopsWords(stops: number): string {
  const text = fixed(stops, 2);
  if (text.startsWith("-")) return `−${text.slice(1)}`;
  return text === "0.00" ? text : `+${text}`;
}

/** "holder=3;side=a" as "holder 3, side A"; "" for the whole piece. */
export function placeWords(place: string, catalogue: Terms): string {
  const said = parsePlace(place);
  return catalogue.terms.axes.flatMap((axis) => (said[axis.id] === undefined ? [] : [axisWords(axis, said[axis.id]!)])).join(", ");
}

/**
 * Several places in one line, a holder with both its sides said once; "everywhere" where they are all `of` many.
 *
 * The whole piece says nothing.
 */
export function placesWords(places: readonly string[], catalogue: Terms, of: readonly string[] = []): string {
  if (of.length > 1 && of.every((place) => places.includes(place))) return "everywhere";
  const said = places.map(parsePlace);
  const axesOf = (axes: Record<string, string>) => Object.keys(axes).sort().join();
  const whole = said.filter((axes) => axesOf(axes) === "holder");
  const both = said.filter((axes) => axesOf(axes) === "holder,side" && axes["side"] === "a" && places.includes(`holder=${axes["holder"]};side=b`));
  const holders = [...new Set([...whole, ...both].map((axes) => axes["holder"]!))];
  const words = holders.length > 0 ? [`${holders.length === 1 ? "holder" : "holders"} ${runs(holders).join(", ")}`] : [];
  const rest = places.filter((_, index) => !holders.includes(said[index]!["holder"] ?? ""));
  return [...words, ...rest.map((place) => placeWords(place, catalogue)).filter((text) => text !== "")].join("; ");
}

/** The title of a term in a list of the catalogue's words. */
export function titleOf(terms: readonly Term[], term: string | null | undefined, otherwise = ""): string {
  return terms.find(({ id }) => id === term)?.title ?? otherwise;
}

/** "1 holder", "3 holders". */
export function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** "a", "a and b", "a, b and c". */
export function listed(words: readonly string[]): string {
  return [...(words.length > 1 ? [words.slice(0, -1).join(", ")] : []), ...words.slice(-1)].join(" and ");
}

/** Each once, in the order they first came. */
export function distinct<T>(values: readonly T[]): T[] {
  return [...new Set(values)];
}

/** A list as a section of the report, which is left out when it has no rows. */
export function some<T>(rows: readonly T[]): { list: readonly T[] } | null {
  return rows.length > 0 ? { list: rows } : null;
}

/** Order by a number, then by text, as the shared rules compare both. */
export function byKey<T>(key: (one: T) => readonly [number, string]): (a: T, b: T) => number {
  return (a, b) => {
    const [left, right] = [key(a), key(b)];
    return left[0] - right[0] || (left[1] < right[1] ? -1 : left[1] > right[1] ? 1 : 0);
  };
}

/** "1", "2", "3", "7" as "1 to 3", "7". */
function runs(holders: readonly string[]): string[] {
  const found: string[][] = [];
  const number = /^\d+$/;
  for (const holder of holders) {
    const last = found.at(-1)?.at(-1);
    if (last !== undefined && number.test(holder) && number.test(last) && Number(holder) === Number(last) + 1) found.at(-1)!.push(holder);
    else found.push([holder]);
  }
  return found.map((run) => (run.length > 2 ? `${run[0]!.toUpperCase()} to ${run.at(-1)!.toUpperCase()}` : run.map((one) => one.toUpperCase()).join(", ")));
}

function axisWords(axis: { readonly id: string; readonly title: string; readonly values: readonly Term[] }, value: string): string {
  const title = titleOf(axis.values, value, value);
  if (axis.id === "holder") return `${axis.title.toLowerCase()} ${value.toUpperCase()}`;
  if (axis.id === "speed") return `${axis.title.toLowerCase()} ${value}`;
  if (axis.id === "extension") return `${title.toLowerCase()} extension`;
  return axis.id === "side" ? title[0]!.toLowerCase() + title.slice(1) : title.toLowerCase();
}
