// A report as one file made by the phone alone, for where there is no server or no signal: the same view, the same template.
import { preparePhoto } from "../../device/camera.ts";
import { moment } from "../../device/moment.ts";
import { loadCatalogue } from "../../domain/catalogue.ts";
import type { Bundle } from "../../domain/report_records.ts";
import { neededFiles, photoHashes, reportView } from "../../domain/report_view.ts";
import { type Measured, waveMarks, type Waves } from "../../domain/report_shutter.ts";
import { wave } from "../../domain/waveform.ts";
import { parseWav } from "../../domain/wav.ts";
import { oneFile } from "../../report/one_file.ts";
import { page, style } from "../../report/page.ts";
import type { Store } from "../../store/store.ts";
import { resultOf } from "../shutter/takes.ts";
import { ownBundle } from "./own_bundle.ts";
import type { Subject } from "./reports.ts";

/** Longest edge of a photo in a report, as the server gives it out. */
const REPORT_EDGE_PX = 1280;

export interface OwnFile { name: string; html: string; missing: number }

/** What the making needs of the phone; a test hands in its own. */
export interface Means {
  smaller: (photo: Blob) => Promise<ArrayBuffer>;
  measure: typeof resultOf;
}

const MEANS: Means = { smaller: async (photo) => (await preparePhoto(photo, REPORT_EDGE_PX)).bytes, measure: resultOf };

/**
 * `hear` is told the share done, 0..1; `missing` counts photos and sounds that are not in reach, which the report says of each.
 * Throws RangeError where nothing has been looked at, and whatever `signal` was stopped with.
 */
export async function makeOwnFile(store: Store, subject: Subject, hiddenGroups: readonly string[], hear: (share: number) => void, signal: AbortSignal, means: Means = MEANS): Promise<OwnFile> {
  const [bundle, catalogue] = await Promise.all([ownBundle(store, subject), loadCatalogue()]);
  const about = { about: subject, pieces: null, hidden_groups: hiddenGroups };
  const needed = neededFiles(bundle, about);
  const takes = bundle.take ?? [];
  let done = 0;
  const step = () => {
    signal.throwIfAborted();
    done += 1;
    hear(done / Math.max(1, needed.length + takes.length));
  };
  const photos = new Map<string, string>();
  let missing = 0;
  for (const hash of needed) {
    const file = await store.media.find(hash);
    if (typeof file === "string") missing += 1;
    else if (file.type.startsWith("image/")) photos.set(hash, base64(await means.smaller(new Blob([file.bytes], { type: file.type }))));
    step();
  }
  const measured = await measure(store, bundle, means, step);
  const view = reportView(bundle, catalogue, { ...about, measured, waves: await draw(store, bundle, waveMarks(bundle, measured, catalogue)), here: [...photos.keys()], version: 0, published: moment(), catalogue_hash: "" });
  const shown = photoHashes(view).flatMap((hash) => (photos.has(hash) ? [[`photo/${hash}.jpg`, photos.get(hash)!] as const] : []));
  return { name: `condition-report-${view.number}.html`, html: oneFile(page(view), style(), new Map(shown)), missing };
}

async function measure(store: Store, { take = [], recording = [] }: Bundle, means: Means, step: () => void): Promise<Measured> {
  const measured: Record<string, Measured[string]> = {};
  for (const { id, intent, recording: name } of take) {
    const hash = recording.find((one) => one.id === name)?.file?.hash;
    const result = hash && intent ? await means.measure(store, hash, intent.marked.seconds) : null;
    if (result) measured[id] = result;
    step();
  }
  return measured;
}

/** The sound around the marks of each take that was measured. */
async function draw(store: Store, { take = [], recording = [] }: Bundle, marks: ReturnType<typeof waveMarks>): Promise<Waves> {
  const waves: Record<string, Waves[string]> = {};
  for (const { id, recording: name } of take) {
    const mark = marks[id];
    const hash = mark && recording.find((one) => one.id === name)?.file?.hash;
    const file = hash ? await store.media.find(hash) : "";
    if (!mark || typeof file === "string") continue;
    const { samples, rateHz } = parseWav(file.bytes);
    waves[id] = wave(samples, rateHz, ...mark);
  }
  return waves;
}

function base64(bytes: ArrayBuffer): string {
  const parts: string[] = [];
  // In pieces: one call with millions of arguments is more than a browser takes.
  for (let at = 0; at < bytes.byteLength; at += 0x8000) parts.push(String.fromCharCode(...new Uint8Array(bytes, at, Math.min(0x8000, bytes.byteLength - at))));
  return btoa(parts.join(""));
}
