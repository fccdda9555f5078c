// Pictures from the phone's camera or files: shrunk, turned upright and stripped of all they tell about place and time.
import { shrink, type ShrunkPhoto } from "../workers/shrink_photo.ts";

export type { ShrunkPhoto } from "../workers/shrink_photo.ts";

/** Longest edge kept, in px; leak pictures keep every pixel the camera gave. */
export const USUAL_EDGE_PX = 2560;

export class NotAPicture extends Error {
  constructor() {
    super("This file is not a picture the phone can read. Take a photo, or choose a JPEG, PNG or WebP file.");
    this.name = "NotAPicture";
  }
}

let worker: Worker | null = null;
let turn = 0;
const waiting = new Map<number, { done: (photo: ShrunkPhoto) => void; fail: (error: Error) => void }>();

function photoWorker(): Worker | null {
  if (worker || typeof OffscreenCanvas === "undefined") return worker;
  worker = new Worker(new URL("../workers/photo.worker.ts", import.meta.url), { type: "module" });
  worker.addEventListener("message", ({ data }: MessageEvent<{ id: number; photo?: ShrunkPhoto }>) => {
    const one = waiting.get(data.id);
    waiting.delete(data.id);
    if (data.photo) one?.done(data.photo);
    else one?.fail(new NotAPicture());
  });
  worker.addEventListener("error", () => {
    for (const one of waiting.values()) one.fail(new Error("The phone could not prepare the picture. Try again, or take a smaller one."));
    waiting.clear();
    worker = null;
  });
  return worker;
}

/** Makes a file ready to be kept, off the page's thread where the browser can. Throws NotAPicture. */
export async function preparePhoto(file: Blob, edgePx = USUAL_EDGE_PX): Promise<ShrunkPhoto> {
  const helper = photoWorker();
  if (!helper) return shrink(file, edgePx).catch(() => { throw new NotAPicture(); });
  turn += 1;
  const id = turn;
  return new Promise((done, fail) => {
    waiting.set(id, { done, fail });
    helper.postMessage({ id, file, edgePx });
  });
}
