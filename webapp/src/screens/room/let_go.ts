// Lets go of photos and sounds on this phone, after asking the server once more whether it has them.
import type { Store } from "../../store/store.ts";
import { knownThere } from "../../sync/known.ts";

/** Gives the hashes that went. Without a signal the server's earlier word counts; what it says it has not is queued again. */
export async function letGo(store: Store, hashes: readonly string[], ask = knownThere): Promise<string[]> {
  const known = await ask(hashes);
  if (known) await store.media.doubt(hashes.filter((hash) => !known.has(hash)));
  return store.media.letGo(hashes);
}

/** Fetches what was let go; gives how many came. Throws StoreError when there is no room. */
export async function bringBack(store: Store, hashes: readonly string[]): Promise<number> {
  let came = 0;
  for (const hash of hashes) came += (await store.media.bringBack(hash)) ? 1 : 0;
  return came;
}
