// Draws a photo anew with parts painted out or cut away: a new file, in which what was under the paint is no longer there.
import { drawn, type ShrunkPhoto } from "../workers/shrink_photo.ts";

/** Whole pixels of the upright picture. */
export interface PixelBox { left: number; top: number; width: number; height: number }

/** `covered` becomes plain black; `kept` is what is left of the picture, the whole of it where null. Throws for bytes that are no picture. */
export async function coverPhoto(file: Blob, covered: readonly PixelBox[], kept: PixelBox | null): Promise<ShrunkPhoto> {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const { left, top, width, height } = kept ?? { left: 0, top: 0, width: picture.width, height: picture.height };
  const made = await drawn(width, height, (pen) => {
    pen.drawImage(picture, -left, -top);
    pen.fillStyle = "#000000";
    for (const box of covered) pen.fillRect(box.left - left, box.top - top, box.width, box.height);
  });
  picture.close();
  return made;
}
