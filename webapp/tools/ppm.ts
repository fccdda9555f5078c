// Reads a PPM picture (binary "P6", 8 bits; Netpbm's open format) as RGBA pixels, which both sides can write without a decoder.
import type { Pixels } from "../src/domain/leak_filters.ts";

export class BadPicture extends Error {}

/** Throws BadPicture with words for a person. */
export function parsePpm(bytes: Uint8Array): Pixels {
  const head = /^P6\s+(?:#[^\n]*\n\s*)*(\d+)\s+(\d+)\s+255\s/.exec(new TextDecoder("latin1").decode(bytes.subarray(0, 200)));
  if (!head) throw new BadPicture("This file is not a PPM picture (P6, 255 levels).");
  const [width, height] = [Number(head[1]), Number(head[2])];
  const from = bytes.subarray(head[0].length);
  if (!width || !height || from.length < width * height * 3) throw new BadPicture("This PPM picture is cut short.");
  const data = new Uint8Array(width * height * 4).fill(255);
  for (let pixel = 0; pixel < width * height; pixel += 1) {
    data[pixel * 4] = from[pixel * 3]!;
    data[pixel * 4 + 1] = from[pixel * 3 + 1]!;
    data[pixel * 4 + 2] = from[pixel * 3 + 2]!;
  }
  return { width, height, data };
}
