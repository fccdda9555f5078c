// A photo's reading in the store: found by its photo, made at the first look, changed field by field.
import { type LeakResult } from "../../domain/leak_finder.ts";
import type { At, LeakMark, LeakPlace, LeakReading } from "../../domain/leak_reading.ts";
import { settle, type PhotoPoints, type SecondPhoto, type SettledPoint } from "../../domain/leak_compare.ts";
import { sha256 } from "../../store/media.ts";
import type { Rec } from "../../store/store.ts";

/** The machine's result with the catalogue's revision it was judged by. */
export interface Machine extends LeakResult { readonly catalogue: number }

export interface Second { readonly photo: string; readonly how: SecondPhoto; readonly machine: Machine; readonly width: number; readonly height: number }

/** Everything a desk shows of one photo. */
export interface Work extends LeakReading {
  readonly machine: Machine | null;
  readonly second: Second | null;
}

/** The id of the one reading of a photo: two people who look at the same photo meet in one record. */
export async function readingId(photo: string): Promise<string> {
  return (await sha256(new TextEncoder().encode(`leak_reading\n${photo}`).buffer)).slice(0, 32);
}

export const EMPTY: Work = { machine: null, region: null, marks: [], second: null };

/** `second` lacks the size of its photo, which stands in the photo's own record. */
export function workOf(reading: Rec | undefined, secondPhoto: Rec | undefined): Work {
  const { machine = null, region = null, marks = [], second = null } = (reading?.values ?? {}) as Partial<Work>;
  const { width, height } = (secondPhoto?.values["file"] as { width: number; height: number } | undefined) ?? {};
  return { machine, region, marks, second: second && width && height ? { ...second, width, height } : null };
}

/** The marks after a person said something of a place; the same word again takes it back. */
export function marksAfter(marks: readonly LeakMark[], place: LeakPlace, said: "confirmed" | "struck_out"): LeakMark[] {
  const others = marks.filter(({ of }) => of !== place.of);
  return place.said === said ? others : [...others, { of: place.of, at: place.at, said }];
}

export function marksWith(marks: readonly LeakMark[], at: At): LeakMark[] {
  return [...marks, { of: null, at, said: "added" }];
}

export function marksWithout(marks: readonly LeakMark[], place: LeakPlace): LeakMark[] {
  return marks.filter(({ of, at }) => of !== null || at.x !== place.at.x || at.y !== place.at.y);
}

/** What the second photo says of each of the machine's points. */
export function settledBy(work: Work, width: number, height: number): SettledPoint[] {
  if (!work.machine || !work.second) return [];
  const { second } = work;
  const first: PhotoPoints = { width, height, points: work.machine.points };
  return settle(first, { width: second.width, height: second.height, points: second.machine.points }, second.how);
}
