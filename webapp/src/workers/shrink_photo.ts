// Draws a picture anew: upright, no longer than asked, as a JPEG that holds pixels and nothing else.
import { bareJpeg } from "./bare_jpeg.ts";

export interface ShrunkPhoto { bytes: ArrayBuffer; type: "image/jpeg"; width: number; height: number }

const QUALITY = 0.85;

/** Re-encoding drops EXIF, GPS and every other note; the browser turns the picture upright while decoding. */
export async function shrink(file: Blob, edgePx: number): Promise<ShrunkPhoto> {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, edgePx / Math.max(picture.width, picture.height));
  const width = Math.max(1, Math.round(picture.width * scale));
  const height = Math.max(1, Math.round(picture.height * scale));
  const made = await drawn(width, height, (pen) => pen.drawImage(picture, 0, 0, width, height));
  picture.close();
  return made;
}

type Pen = OffscreenCanvasRenderingContext2D | CanvasRenderingContext2D;

/** A JPEG of what `draw` paints, of pixels and nothing else. */
export async function drawn(width: number, height: number, draw: (pen: Pen) => void): Promise<ShrunkPhoto> {
  const blob = await encode(width, height, draw);
  return { bytes: bareJpeg(await blob.arrayBuffer()), type: "image/jpeg", width, height };
}

async function encode(width: number, height: number, draw: (pen: Pen) => void): Promise<Blob> {
  if (typeof OffscreenCanvas !== "undefined") {
    const canvas = new OffscreenCanvas(width, height);
    draw(canvas.getContext("2d")!);
    return canvas.convertToBlob({ type: "image/jpeg", quality: QUALITY });
  }
  const canvas = Object.assign(document.createElement("canvas"), { width, height });
  draw(canvas.getContext("2d")!);
  return new Promise((done, fail) => canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error("no picture"))), "image/jpeg", QUALITY));
}
