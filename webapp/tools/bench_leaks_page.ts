// The phone's leak finder timed in a page: reading and reducing a photo, finding in it, and both through the worker's own code.
import constants from "@catalogue/leaks.json";
import { findIn } from "../src/domain/leak_finder.ts";
import { areaReduced, reducedSize } from "../src/domain/leak_reduce.ts";
import { openPhoto } from "../src/workers/leak_photo.ts";

export interface Times {
  readonly decodeMs: number;
  readonly reduceMs: number;
  readonly findMs: number;
  readonly points: number;
}

/** `base64`: a JPEG. */
export async function time(base64: string): Promise<Times> {
  const file = new Blob([Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))], { type: "image/jpeg" });
  const at = [performance.now()];
  const photo = await openPhoto(file);
  at.push(performance.now());
  const working = areaReduced(photo, reducedSize(photo.width, photo.height, constants.working.long_edge));
  at.push(performance.now());
  const found = findIn(working, photo, constants);
  at.push(performance.now());
  photo.close();
  return { decodeMs: at[1]! - at[0]!, reduceMs: at[2]! - at[1]!, findMs: at[3]! - at[2]!, points: found.points.length };
}
