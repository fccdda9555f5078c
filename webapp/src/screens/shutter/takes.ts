// Takes with what they read: the stored sound is measured again, a person's marks stand before the machine's.
import timing from "@catalogue/shutter_timing.json";
import { readTakes, type ReadTake } from "../../domain/shutter_takes.ts";
import type { BesideMeasurement } from "../../domain/shutter_beside.ts";
import { parseWav } from "../../domain/wav.ts";
import type { Rec, Store } from "../../store/store.ts";
import { measureSound } from "./measure.ts";

export interface TakeView {
  take: Rec;
  recording: Rec | undefined;
  /** The marks a person set, if any. */
  moved: Rec | undefined;
  /** Undefined while it is being measured, null when the sound is not in reach. */
  result: BesideMeasurement | null | undefined;
}

/** Measurements by take. */
export type Results = Readonly<Record<string, BesideMeasurement | null>>;

/** Results by sound, marked speed and algorithm: the same bytes always read the same. */
const known = new Map<string, Promise<BesideMeasurement | null>>();

async function measureStored(store: Store, hash: string, markedS: number | null): Promise<BesideMeasurement | null> {
  const file = await store.getMedia(hash);
  if (!file) return null;
  const { samples, rateHz } = parseWav(file.bytes);
  return measureSound(samples, rateHz, markedS);
}

const keyOf = (hash: string, markedS: number | null) => `${hash} ${markedS} ${timing.algorithm}`;

/** Keeps the measurement of a sound that was just stored, so that nobody waits for it twice. */
export function remember(hash: string, markedS: number | null, result: BesideMeasurement): void {
  known.set(keyOf(hash, markedS), Promise.resolve(result));
}

/** The measurement of a stored sound; asked again later when the sound could not be had. */
export function resultOf(store: Store, hash: string, markedS: number | null): Promise<BesideMeasurement | null> {
  const key = keyOf(hash, markedS);
  const had = known.get(key);
  if (had) return had;
  const asked = measureStored(store, hash, markedS).catch(() => null);
  known.set(key, asked);
  void asked.then((result) => { if (result === null) known.delete(key); });
  return asked;
}

/** The takes of a visit in the order they were made, still without their results. */
export async function loadTakes(store: Store, visit: string): Promise<TakeView[]> {
  const takes = (await store.children(visit, "take")).filter((take) => take.values["intent"]);
  const views = await Promise.all(takes.map(async (take): Promise<TakeView> => {
    const [recording, marks] = await Promise.all([store.get(take.values["recording"]), store.children(take.id, "mark")]);
    return { take, recording, moved: marks.at(-1), result: undefined };
  }));
  return views.sort((a, b) => (a.take.values["at"]?.ms ?? 0) - (b.take.values["at"]?.ms ?? 0));
}

/** The measurement a take needs; null when its sound is not in reach. */
export function measured(store: Store, { take, recording }: TakeView): Promise<BesideMeasurement | null> {
  const hash = recording?.values["file"]?.hash as string | undefined;
  return hash ? resultOf(store, hash, take.values["intent"].marked.seconds) : Promise.resolve(null);
}

/** What each take read, as the table of speeds takes it. */
export function readsOf(views: readonly TakeView[]): ReadTake[] {
  const takes = views.map(({ take }) => ({ id: take.id, recording: take.values["recording"], intent: take.values["intent"] }));
  const measured = Object.fromEntries(views.flatMap(({ take, result }) => (result ? [[take.id, result]] : [])));
  const moved = Object.fromEntries(views.flatMap(({ take, moved: mark }) => (mark?.values["moved"] ? [[take.id, mark.values["moved"]]] : [])));
  return readTakes(takes, measured, moved, { shutter_timing: timing });
}
