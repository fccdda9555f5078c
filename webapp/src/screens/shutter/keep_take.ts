// Keeps a take: measured, cut, written as WAV by its hash, and named with what the person meant by it.
import { moment } from "../../device/moment.ts";
import type { BesideMeasurement } from "../../domain/shutter_beside.ts";
import { parseWav, writeWav } from "../../domain/wav.ts";
import type { Store } from "../../store/store.ts";
import { measureSound } from "./measure.ts";
import { remember } from "./takes.ts";
import { trim } from "./trim.ts";

export interface Heard {
  samples: Float32Array;
  rateHz: number;
  origin: "microphone" | "file";
  lostFrames: number;
  processed: boolean;
  settings: Record<string, string | number | boolean>;
}

export interface Meant {
  marked: { text: string; seconds: number | null };
  cold: boolean;
  ordinal: number;
  conditions: { stop: string | null; attitude: string | null; since_last_s: number | null; celsius: number | null };
}

export interface Kept { take: string; takes: readonly string[]; result: BesideMeasurement }

/** Saves the sound first and the records that name it after: a kill in between leaves bytes without a name, never the reverse. */
export async function keepTake(store: Store, visit: string, heard: Heard, meant: Meant): Promise<Kept>;
/** `isWanted` says of a measurement whether it is worth keeping; null where it is not. */
export async function keepTake(store: Store, visit: string, heard: Heard, meant: Meant, isWanted: (found: BesideMeasurement) => boolean): Promise<Kept | null>;
export async function keepTake(store: Store, visit: string, heard: Heard, meant: Meant, isWanted: (found: BesideMeasurement) => boolean = () => true): Promise<Kept | null> {
  const whole = await measureSound(heard.samples, heard.rateHz, meant.marked.seconds);
  if (!isWanted(whole)) return null;
  const samples = trim(heard.samples, heard.rateHz, whole);
  const bytes = writeWav(samples, heard.rateHz);
  const { hash } = await store.putMedia(bytes, "audio/wav");
  // What is stored is what counts from now on: here, on other phones and on the server.
  const found = await measureSound(parseWav(bytes).samples, heard.rateHz, meant.marked.seconds);
  remember(hash, meant.marked.seconds, found);
  const at = moment();
  const recording = await store.create("recording", {
    visit, made: at, origin: heard.origin,
    file: { hash, type: "audio/wav", bytes: bytes.byteLength, rate_hz: heard.rateHz, duration_ms: Math.round(1e6 * samples.length / heard.rateHz) / 1e3 },
    capture: { processed: heard.processed, lost_frames: heard.lostFrames, settings: heard.settings },
  });
  // One take a firing; in a cold recording only the first is cold, what followed was warm.
  const takes: string[] = [];
  for (let firing = 0; firing < Math.max(1, found.firings.length); firing += 1) {
    const intent = { marked: meant.marked, cold: meant.cold && firing === 0, ordinal: meant.ordinal + firing };
    takes.push(await store.create("take", { visit, recording, at: { ...at, ms: at.ms + firing }, intent, conditions: meant.conditions }));
  }
  return { take: takes[0]!, takes, result: found };
}
