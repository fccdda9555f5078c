// A photo's bright places as a person left them: the machine's candidates, the part of the photo that counts, what was said of each.
//
// Places are in shares of width and height from the top left.

import type { LeakResult } from "./leak_finder.ts";
import { fixed, halfAway } from "./rounding.ts";

export interface At { readonly x: number; readonly y: number }

export type Said = "candidate" | "confirmed" | "struck_out" | "added";

/** What a person said of one place; `of` is the index of the machine's point, null for a place of their own. */
export interface LeakMark { readonly of: number | null; readonly at: At; readonly said: Exclude<Said, "candidate"> }

export interface LeakReading {
  readonly machine: LeakResult | null;
  readonly region: readonly At[] | null;
  readonly marks: readonly LeakMark[];
}

export interface LeakPlace {
  readonly number: number;
  readonly of: number | null;
  readonly at: At;
  readonly kind: "spot" | "streak" | null;
  readonly strength: string | null;
  readonly said: Said;
}

// Strength at which nearly all (30) and most (18) leaks of simulated photos were found; below, few were. Own, rendered pictures only.
const STRENGTHS: readonly (readonly [number, string])[] = [[30, "strong"], [18, "clear"], [0, "weak"]];

/** Whether a place lies in the drawn part, a closed line of at least three corners; without one the whole photo counts. */
export function inRegion(region: readonly At[] | null, at: At): boolean {
  if (!region || region.length < 3) return true;
  return region.reduce((inside, one, index) => {
    const other = region.at(index - 1)!;
    if (one.y > at.y === other.y > at.y) return inside;
    const crosses = one.x + ((at.y - one.y) / (other.y - one.y)) * (other.x - one.x);
    return inside !== at.x < crosses;
  }, false);
}

/** "strong", "clear" or "weak" for a point's contrast over the noise. */
export function strengthWord(strength: number): string {
  return STRENGTHS.find(([least]) => strength >= least)?.[1] ?? "weak";
}

/** The places to look at, numbered from 1: the machine's within the drawn part, strongest first, then those a person added. */
export function places(reading: LeakReading, width: number, height: number): LeakPlace[] {
  const said = new Map(reading.marks.filter(({ of }) => of !== null).map((mark) => [mark.of, mark.said]));
  const share = (value: number, size: number) => halfAway(Math.min(Math.max((value + 0.5) / size, 0), 1), 4);
  const found = (reading.machine?.points ?? [])
    .map((point, of) => ({
      of: of as number | null,
      at: { x: share(point.x, width), y: share(point.y, height) } as At,
      kind: point.kind as LeakPlace["kind"],
      strength: strengthWord(point.strength) as string | null,
      said: (said.get(of) ?? "candidate") as Said,
    }))
    .filter(({ at }) => inRegion(reading.region, at));
  const added = reading.marks.filter(({ of }) => of === null).map(({ at }) => ({ of: null, at, kind: null, strength: null, said: "added" as const }));
  return [...found, ...added].map((one, index) => ({ number: index + 1, ...one }));
}

/** What a photo's own limit allows to be said of the rest of it; null where nothing could be looked for. */
export function limitWords(machine: Pick<LeakResult, "points" | "limit_code"> | null): string | null {
  if (!machine || machine.limit_code === null) return null;
  const beside = machine.points.length ? "else " : "";
  return `Nothing ${beside}brighter than about ${fixed(machine.limit_code, 0)} of 255 levels above its surroundings in this photo.`;
}

/** A reading as plain data for a report: what a person confirmed or added, what nobody judged, what the photo can and cannot say. */
export function leakView(reading: LeakReading, width: number, height: number) {
  const shown = places(reading, width, height).filter(({ said }) => said !== "struck_out");
  return {
    places: shown,
    unjudged: shown.some(({ said }) => said === "candidate"),
    reasons: reading.machine?.reasons ?? [],
    limit: limitWords(reading.machine),
    algorithm: reading.machine?.algorithm ?? null,
  };
}
