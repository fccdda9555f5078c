// Draws a picture anew: upright, no longer than asked, as a JPEG that holds pixels and nothing else.
import { bareJpeg } from "./bare_jpeg.ts";

export interface ShrunkPhoto { bytes: ArrayBuffer; type: "image/jpeg"; width: number; height: number }

const QUALITIES = [0.85, 0.7, 0.5, 0.3];
/** The server takes no more (media/image.py, media/__init__.py): a photo beyond would stay on this phone for ever. */
const MOST_PIXELS = 60_000_000;
const MOST_BYTES = 24 * 1024 * 1024;

/** Width and height to keep, in px: no edge longer than asked, no more pixels than the server takes. */
export function keptSize(width: number, height: number, edgePx: number): [number, number] {
  const scale = Math.min(1, edgePx / Math.max(width, height), Math.sqrt(MOST_PIXELS / (width * height)));
  const kept = (edge: number): number => Math.max(1, Math.floor(edge * scale + 1e-6)); // 2559.9999 is 2560
  return [kept(width), kept(height)];
}

/** Re-encoding drops EXIF, GPS and every other note; the browser turns the picture upright while decoding. */
export async function shrink(file: Blob, edgePx: number): Promise<ShrunkPhoto> {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const [width, height] = keptSize(picture.width, picture.height, edgePx);
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

/** As well as fits: what a sensor makes of the dark, pixel by pixel, does not pack. */
async function encode(width: number, height: number, draw: (pen: Pen) => void): Promise<Blob> {
  const encoder = typeof OffscreenCanvas === "undefined" ? onPage(width, height) : offPage(width, height);
  draw(encoder.pen);
  let blob = await encoder.save(QUALITIES[0]!);
  for (const quality of QUALITIES.slice(1)) if (blob.size > MOST_BYTES) blob = await encoder.save(quality);
  return blob;
}

interface Encoder { pen: Pen; save(quality: number): Promise<Blob> }

function offPage(width: number, height: number): Encoder {
  const canvas = new OffscreenCanvas(width, height);
  return { pen: canvas.getContext("2d")!, save: (quality) => canvas.convertToBlob({ type: "image/jpeg", quality }) };
}

function onPage(width: number, height: number): Encoder {
  const canvas = Object.assign(document.createElement("canvas"), { width, height });
  return {
    pen: canvas.getContext("2d")!,
    save: (quality) => new Promise((done, fail) => canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error("no picture"))), "image/jpeg", quality)),
  };
}
