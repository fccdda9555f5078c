// A photo looked through for bright places: decoded once, reduced in strips, and cut out around a place for a closer look.
import constants from "@catalogue/leaks.json";
import { type FullPicture, wholePicture } from "../domain/leak_doubts.ts";
import { type Pixels } from "../domain/leak_filters.ts";
import { findIn, type LeakResult } from "../domain/leak_finder.ts";
import type { At } from "../domain/leak_reading.ts";
import { areaReduced, reducedSize, type Rows } from "../domain/leak_reduce.ts";

/** Side of a closer look, px of the photo. */
export const CUT_PX = 72;
/** A closer look is brightened until its brightest pixel is near white, but not beyond this. */
const MOST_GAIN = 6;
/** Of the whole work, reading the picture; the rest finds. */
const READING = 0.6;

type Pen = OffscreenCanvasRenderingContext2D | CanvasRenderingContext2D;

export interface LeakPhoto extends FullPicture, Rows {
  /** Gives the memory back. */
  close(): void;
}

/** Turned upright by the browser. Rejects for what is no picture. */
export async function openPhoto(file: Blob): Promise<LeakPhoto> {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const { width, height } = picture;
  const part = (left: number, top: number, wide: number, tall: number): Pixels => {
    const pen = penOf(wide, tall);
    pen.drawImage(picture, left, top, wide, tall, 0, 0, wide, tall);
    return { width: wide, height: tall, data: pen.getImageData(0, 0, wide, tall).data };
  };
  return {
    width,
    height,
    rows: (top, count) => part(0, top, width, count).data,
    cutout: (left, top, side) => {
      const [x0, y0] = [Math.min(Math.max(left, 0), width - 1), Math.min(Math.max(top, 0), height - 1)];
      const [x1, y1] = [Math.min(Math.max(left + side, x0 + 1), width), Math.min(Math.max(top + side, y0 + 1), height)];
      return wholePicture(part(x0, y0, x1 - x0, y1 - y0)).cutout(left - x0, top - y0, side);
    },
    close: () => picture.close(),
  };
}

export function findInPhoto(photo: LeakPhoto, hear: (share: number) => void): LeakResult {
  const size = reducedSize(photo.width, photo.height, constants.working.long_edge);
  const working = areaReduced(photo, size, (share) => hear(READING * share));
  return findIn(working, photo, constants);
}

/** A brightened square around a place, for eyes only. */
export function closerLook(photo: LeakPhoto, at: At): Pixels {
  const [left, top] = [Math.round(at.x * photo.width - CUT_PX / 2), Math.round(at.y * photo.height - CUT_PX / 2)];
  const cut = photo.cutout(left, top, CUT_PX);
  let most = 1;
  for (let index = 0; index < cut.data.length; index += 1) if (index % 4 < 3) most = Math.max(most, cut.data[index]!);
  const gain = Math.min(MOST_GAIN, 250 / most);
  return { ...cut, data: Uint8ClampedArray.from(cut.data, (value, index) => (index % 4 < 3 ? value * gain : 255)) };
}

function penOf(width: number, height: number): Pen {
  if (typeof OffscreenCanvas !== "undefined") return new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true })!;
  const canvas: HTMLCanvasElement = document.createElement("canvas");
  [canvas.width, canvas.height] = [width, height];
  return canvas.getContext("2d", { willReadFrequently: true }) as CanvasRenderingContext2D;
}
