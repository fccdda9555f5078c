// Pictures from the phone's camera or files: shrunk, turned upright and stripped of all they tell about place and time.
import { Asking } from "../workers/asking.ts";
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

interface Reply { id: number; photo?: ShrunkPhoto }

const asking = new Asking<{ file: Blob; edgePx: number }, Reply, ShrunkPhoto>(
  () => new Worker(new URL("../workers/photo.worker.ts", import.meta.url), { type: "module" }),
  ({ photo }) => {
    if (photo) return photo;
    throw new NotAPicture();
  },
  "The phone could not prepare the picture. Try again, or take a smaller one.",
);

/** Makes a file ready to be kept, off the page's thread where the browser can. Throws NotAPicture. */
export function preparePhoto(file: Blob, edgePx = USUAL_EDGE_PX): Promise<ShrunkPhoto> {
  if (typeof OffscreenCanvas === "undefined") return shrink(file, edgePx).catch(() => { throw new NotAPicture(); });
  return asking.ask({ file, edgePx });
}
