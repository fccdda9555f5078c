// Since when nothing was backed up, in a few words, while an edit lies on this phone alone.
import { signal } from "@preact/signals";
import type { Store } from "../store/store.ts";

export const backupWords = signal("");

/** "no backup since 3 May"; empty when a server or a file holds everything. */
export function sinceWords(unsavedSinceMs: number | undefined): string {
  if (unsavedSinceMs === undefined) return "";
  const day = new Date(unsavedSinceMs).toLocaleDateString(undefined, { day: "numeric", month: "short" });
  return `no backup since ${day}`;
}

/** Keeps the words true from now on; call once. */
export function followBackup(store: Store): void {
  const read = () => { void store.meta.get("unsaved_since").then((since) => { backupWords.value = sinceWords(since); }, () => undefined); };
  store.subscribe(read);
  read();
}
