// When it is worth a word that a book has no copy: not in the first hours of a sale, whose every edit is new.

const DUE_AFTER_MS = 86_400_000;

/** Whether the oldest edit that no server or file holds has waited for a day. `unsavedSinceMs`: its moment; undefined when all are safe. */
export function isBackupDue(unsavedSinceMs: number | undefined, nowMs: number): boolean {
  return unsavedSinceMs !== undefined && nowMs - unsavedSinceMs >= DUE_AFTER_MS;
}
