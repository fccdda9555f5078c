// Looks through photos off the page's thread: {id, key, file} -> {id, found}, or with `at` {id, looks}; {id, progress} on the way.
import { closerLook, findInPhoto, type LeakPhoto, openPhoto } from "./leak_photo.ts";
import type { Pixels } from "../domain/leak_filters.ts";
import type { LeakResult } from "../domain/leak_finder.ts";
import type { At } from "../domain/leak_reading.ts";

export interface LeaksRequest {
  /** Names the photo, so that it is decoded once for several questions. */
  readonly key: string;
  readonly file: Blob;
  /** Places for a closer look; without them the whole photo is looked through. */
  readonly at?: readonly At[];
}

export type LeaksReply =
  | { readonly id: number; readonly found: LeakResult }
  | { readonly id: number; readonly looks: readonly Pixels[] }
  | { readonly id: number; readonly progress: number }
  | { readonly id: number; readonly error: string };

let held: { key: string; photo: Promise<LeakPhoto> } | null = null;

addEventListener("message", async ({ data }: MessageEvent<LeaksRequest & { id: number }>) => {
  postMessage(await reply(data));
});

async function reply({ id, key, file, at }: LeaksRequest & { id: number }): Promise<LeaksReply> {
  try {
    const photo = await opened(key, file);
    if (at) return { id, looks: at.map((place) => closerLook(photo, place)) };
    return { id, found: findInPhoto(photo, (progress) => postMessage({ id, progress })) };
  } catch (error) {
    held = null;
    return { id, error: error instanceof Error ? error.message : String(error) };
  }
}

function opened(key: string, file: Blob): Promise<LeakPhoto> {
  if (held?.key === key) return held.photo;
  void held?.photo.then((before) => before.close());
  held = { key, photo: openPhoto(file) };
  return held.photo;
}
