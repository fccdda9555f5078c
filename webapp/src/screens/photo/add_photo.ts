// Keeps a picture: its bytes by hash, and the record that says whose it is and where it was looked at.
import { preparePhoto, USUAL_EDGE_PX } from "../../device/camera.ts";
import { moment } from "../../device/moment.ts";
import type { Store } from "../../store/store.ts";

/** Where a photo belongs; no check when it shows the piece as a whole. */
export interface PhotoSpot { visit: string; check: string | null; place: string }

/** Returns the photo's id. Throws NotAPicture for a file that is none, StoreError when it cannot be kept. */
export async function addPhoto(store: Store, file: Blob, { visit, check, place }: PhotoSpot, { origin, fullSize }: { origin: "camera" | "file"; fullSize: boolean }): Promise<string> {
  const taken = moment();
  const { bytes, type, width, height } = await preparePhoto(file, fullSize ? Infinity : USUAL_EDGE_PX);
  const { hash } = await store.putMedia(bytes, type);
  return store.create("photo", { visit, check, place, file: { hash, type, bytes: bytes.byteLength, width, height }, taken, origin, caption: "", left_out: false });
}
