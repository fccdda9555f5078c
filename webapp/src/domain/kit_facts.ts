// What is known of a thing for fitting it to others: the facts of a piece from its fields and readings, as a kit keeps them.

import type { Catalogue, Measure } from "./catalogue.ts";
import { parseLength } from "./lengths.ts";
import { type Figure, figure } from "./uncertainty.ts";

type Measures = Pick<Catalogue, "measures">;

/** By the ids of the catalogue's `measures`: mm, or a term. */
export type Facts = Readonly<Record<string, number | string | boolean | null | undefined>>;

export interface Thing {
  readonly id?: string;
  readonly kind: string;
  readonly facts: Facts;
}

interface KnownPiece {
  readonly id?: string;
  readonly kind?: string | null;
  readonly type?: string | null;
}

interface KnownReading {
  readonly check?: string;
  readonly reading?: string;
  readonly place?: string | null;
  readonly at?: { readonly ms: number } | null;
  readonly typed?: { readonly text: string; readonly unit: string } | null;
}

/** The facts of an inspected piece; what nobody knows is left out, several readings of one fact give their mean. */
export function pieceFacts(piece: KnownPiece, readings: readonly KnownReading[], catalogue: Measures): Record<string, number | string> {
  const facts: Record<string, number | string> = {};
  for (const measure of measuresOf(piece.kind, catalogue)) {
    const told = measure.field ? fieldOf(piece, measure.field) : null;
    const name = piece.kind === "other" && measure.reading_other ? measure.reading_other : measure.reading;
    const value = told ?? meanOf(readings.filter((one) => `${one.check}#${one.reading}` === name));
    if (value !== null) facts[measure.id] = value;
  }
  return facts;
}

/** Of several looks at one piece, the last reading of each kind at each place, by its moment; in the order first met. */
export function lastReadings<T extends KnownReading>(readings: readonly T[]): T[] {
  const moment = ({ at }: KnownReading) => at?.ms ?? 0;
  const last = new Map<string, T>();
  for (const one of readings) {
    const key = JSON.stringify([one.check, one.reading, one.place ?? ""]);
    const known = last.get(key);
    if (!known || moment(one) >= moment(known)) last.set(key, one);
  }
  return [...last.values()];
}

/** The facts of a kind of thing that are not known yet, in the order of the catalogue. */
export function missingFacts(kind: string, facts: Facts, catalogue: Measures): { fact: string; title: string; hint: string | null }[] {
  return measuresOf(kind, catalogue).filter(({ id }) => facts[id] === null || facts[id] === undefined).map(({ id, title, hint }) => ({ fact: id, title, hint }));
}

/** A fact in mm: how well it is known without a word about the instrument stands in `measures`. */
export function factFigure(facts: Facts, fact: string, catalogue: Measures): Figure {
  return figure(facts[fact] as number, catalogue.measures.find((one) => one.id === fact)!.u_mm ?? 0);
}

/** A piece as `fit` takes it; null for what has nothing to fit (of loose things only a lens board has). */
export function asThing(piece: KnownPiece & { readonly id: string }, readings: readonly KnownReading[], catalogue: Measures): Required<Thing> | null {
  if (piece.kind === "other" && piece.type !== "lens_board") return null;
  return { id: piece.id, kind: piece.kind!, facts: pieceFacts(piece, readings, catalogue) };
}

function measuresOf(kind: string | null | undefined, { measures }: Measures): Measure[] {
  return measures.filter((one) => kind && one.kinds.includes(kind));
}

function fieldOf(piece: KnownPiece, path: string): string | number | null {
  return path.split(".").reduce<unknown>((value, name) => (value as Record<string, unknown> | null | undefined)?.[name], piece) as string | number | undefined ?? null;
}

function meanOf(readings: readonly KnownReading[]): number | null {
  const found = readings.map(mmOf).filter((one) => one !== null);
  return found.length > 0 ? found.reduce((sum, one) => sum + one, 0) / found.length : null;
}

function mmOf({ typed }: KnownReading): number | null {
  if (typed?.unit !== "mm" && typed?.unit !== "in") return null;
  try {
    return parseLength(typed.text, typed.unit);
  } catch {
    return null;
  }
}
