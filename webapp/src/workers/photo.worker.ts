// Prepares photos off the page's thread: {id, file, edgePx} -> {id, photo} or {id} when the file is no picture.
import { shrink } from "./shrink_photo.ts";

addEventListener("message", async ({ data }: MessageEvent<{ id: number; file: Blob; edgePx: number }>) => {
  try {
    const photo = await shrink(data.file, data.edgePx);
    postMessage({ id: data.id, photo }, { transfer: [photo.bytes] });
  } catch {
    postMessage({ id: data.id });
  }
});
