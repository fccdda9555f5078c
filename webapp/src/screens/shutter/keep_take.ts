// Keeps a take: measured, cut, written as WAV by its hash, and named with what the person meant by it.
import { moment } from "../../device/moment.ts";
import type { BesideMeasurement } from "../../domain/shutter_beside.ts";
import { parseWav, writeWav } from "../../domain/wav.ts";
import { sha256 } from "../../store/media.ts";
import { randomId } from "../../store/random_id.ts";
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

/** Sound, recording and takes are saved together: after a kill at any moment all of them are there, or none. */
export async function keepTake(store: Store, visit: string, heard: Heard, meant: Meant): Promise<Kept>;
/** `isWanted` says of a measurement whether it is worth keeping; null where it is not. */
export async function keepTake(store: Store, visit: string, heard: Heard, meant: Meant, isWanted: (found: BesideMeasurement) => boolean): Promise<Kept | null>;
export async function keepTake(store: Store, visit: string, heard: Heard, meant: Meant, isWanted: (found: BesideMeasurement) => boolean = () => true): Promise<Kept | null> {
  const whole = await measureSound(heard.samples, heard.rateHz, meant.marked.seconds);
  if (!isWanted(whole)) return null;
  const samples = trim(heard.samples, heard.rateHz, whole);
  const bytes = writeWav(samples, heard.rateHz);
  // What is stored is what counts from now on: here, on other phones and on the server.
  const found = await measureSound(parseWav(bytes).samples, heard.rateHz, meant.marked.seconds);
  const file = { hash: await sha256(bytes), type: "audio/wav", bytes };
  remember(file.hash, meant.marked.seconds, found);
  const at = moment();
  const recording = { kind: "recording", id: randomId(), values: {
    visit, made: at, origin: heard.origin,
    file: { hash: file.hash, type: file.type, bytes: bytes.byteLength, rate_hz: heard.rateHz, duration_ms: Math.round(1e6 * samples.length / heard.rateHz) / 1e3 },
    capture: { processed: heard.processed, lost_frames: heard.lostFrames, settings: heard.settings },
  } };
  // One take a firing; in a cold recording only the first is cold, what followed was warm.
  const takes = Array.from({ length: Math.max(1, found.firings.length) }, (_, firing) => ({ kind: "take", id: randomId(), values: {
    visit, recording: recording.id, at: { ...at, ms: at.ms + firing },
    intent: { marked: meant.marked, cold: meant.cold && firing === 0, ordinal: meant.ordinal + firing }, conditions: meant.conditions,
  } }));
  await store.createAll(file, [recording, ...takes]);
  return { take: takes[0]!.id, takes: takes.map(({ id }) => id), result: found };
}
