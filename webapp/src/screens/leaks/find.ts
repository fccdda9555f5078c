// Asks the worker for the bright places of a photo and for a closer look at some; the page stays quick meanwhile.
import type { Pixels } from "../../domain/leak_filters.ts";
import type { LeakResult } from "../../domain/leak_finder.ts";
import type { At } from "../../domain/leak_reading.ts";
import { Asking } from "../../workers/asking.ts";
import { closerLook, findInPhoto, openPhoto } from "../../workers/leak_photo.ts";
import type { LeaksReply, LeaksRequest } from "../../workers/leaks.worker.ts";

/** The photo could not be read; the words say what to do. */
export class Unreadable extends Error {
  constructor() {
    super("This photo could not be looked through. Take it again, or choose a smaller one.");
    this.name = "Unreadable";
  }
}

/** The person went on to something else. */
export class Stopped extends Error {}

type Answer = Exclude<LeaksReply, { progress: number } | { error: string }>;

const asking = new Asking<LeaksRequest, LeaksReply, Answer>(
  () => new Worker(new URL("../../workers/leaks.worker.ts", import.meta.url), { type: "module" }),
  (reply) => {
    if ("found" in reply || "looks" in reply) return reply;
    throw new Unreadable();
  },
  "The phone could not look through this photo. It is kept; try again.",
);

/** `key` names the photo; `hear` is told how far it has come, 0..1. Rejects with Unreadable. */
export async function findPlaces(key: string, file: Blob, hear: (share: number) => void): Promise<LeakResult> {
  if (typeof OffscreenCanvas === "undefined") return onThePage(file, (photo) => findInPhoto(photo, hear));
  const answer = await asking.ask({ key, file }, hear);
  if ("found" in answer) return answer.found;
  throw new Unreadable();
}

/** Brightened squares around places, in their order. */
export async function lookCloser(key: string, file: Blob, at: readonly At[]): Promise<readonly Pixels[]> {
  if (typeof OffscreenCanvas === "undefined") return onThePage(file, (photo) => at.map((place) => closerLook(photo, place)));
  const answer = await asking.ask({ key, file, at });
  if ("looks" in answer) return answer.looks;
  throw new Unreadable();
}

/** Gives the decoded photo's memory back. */
export function letPhotoGo(): void {
  asking.stop(new Stopped("stopped"));
}

/** Older browsers have no canvas in a worker. */
async function onThePage<T>(file: Blob, work: (photo: Awaited<ReturnType<typeof openPhoto>>) => T): Promise<T> {
  const photo = await openPhoto(file).catch(() => { throw new Unreadable(); });
  try {
    return work(photo);
  } finally {
    photo.close();
  }
}
