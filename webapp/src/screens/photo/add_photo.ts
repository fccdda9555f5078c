// Keeps a picture: its bytes by hash, and the record that says whose it is and where it was looked at.
import { preparePhoto, type ShrunkPhoto, USUAL_EDGE_PX } from "../../device/camera.ts";
import { type Moment, moment } from "../../device/moment.ts";
import type { Store } from "../../store/store.ts";

/** Where a photo belongs; no check when it shows the piece as a whole. */
export interface PhotoSpot { visit: string; check: string | null; place: string }

/** Returns the photo's id. Throws NotAPicture for a file that is none, StoreError when it cannot be kept. */
export async function addPhoto(store: Store, file: Blob, { visit, check, place }: PhotoSpot, { origin, fullSize }: { origin: "camera" | "file"; fullSize: boolean }): Promise<string> {
  const taken = moment();
  return keepPhoto(store, await preparePhoto(file, fullSize ? Infinity : USUAL_EDGE_PX), { visit, check, place }, origin, taken);
}

/** The same for a picture that is ready to be kept: upright, shrunk, without a word about where it was made. */
export async function keepPhoto(store: Store, { bytes, type, width, height }: ShrunkPhoto, { visit, check, place }: PhotoSpot, origin: "camera" | "file", taken: Moment): Promise<string> {
  const { hash } = await store.putMedia(bytes, type);
  return store.create("photo", { visit, check, place, file: { hash, type, bytes: bytes.byteLength, width, height }, taken, origin, caption: "", left_out: false });
}
