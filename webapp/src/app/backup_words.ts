// Since when nothing was backed up, in a few words, once edits have lain on this phone alone for a while.
import { signal } from "@preact/signals";
import { isBackupDue } from "../domain/backup_due.ts";
import type { Store } from "../store/store.ts";

export const backupWords = signal("");

/** "no backup since 3 May"; empty when a server or a file holds everything, and for the first day. */
export function sinceWords(unsavedSinceMs: number | undefined, nowMs: number): string {
  if (!isBackupDue(unsavedSinceMs, nowMs)) return "";
  const day = new Date(unsavedSinceMs!).toLocaleDateString(undefined, { day: "numeric", month: "short" });
  return `no backup since ${day}`;
}

/** Keeps the words true from now on; call once. */
export function followBackup(store: Store): void {
  const read = () => { void store.meta.get("unsaved_since").then((since) => { backupWords.value = sinceWords(since, store.nowMs()); }, () => undefined); };
  store.subscribe(read);
  // An app that is only brought back to the front a day later must say so, too.
  document.addEventListener("visibilitychange", read);
  read();
}
