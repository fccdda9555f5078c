// Whether this window keeps nothing once it is closed, as far as a browser lets a page know.
import { signal } from "@preact/signals";

/** True once a sign of a private window was found; some browsers give none. */
export const privateWindow = signal(false);

/** Private windows of Safari and Firefox have a database but refuse a page files of its own (both from memory); Chromium hides it. */
export async function looksPrivate(storage: Pick<StorageManager, "getDirectory"> | undefined): Promise<boolean> {
  if (typeof storage?.getDirectory !== "function") return false;
  try {
    await storage.getDirectory();
    return false;
  } catch {
    return true;
  }
}

/** Looks once; call when the first screen stands. */
export async function watchPrivacy(): Promise<void> {
  // Only a secure page is given files at all, so elsewhere a refusal says nothing.
  if (window.isSecureContext) privateWindow.value = await looksPrivate(navigator.storage);
}
