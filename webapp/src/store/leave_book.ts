// Leaves a shared book behind, so that the phone can join another with empty pages.
import records from "@catalogue/records.json";
import type { Store } from "./store.ts";

/** How many edits and files of this phone have not reached the server it is paired with. */
export async function onlyHere(store: Store): Promise<number> {
  const { changes, media, refused } = await store.out.counts();
  return changes + media + refused;
}

/** Empties this phone's pages. Throws RangeError while anything is on this phone alone: it would be lost. */
export async function leaveBook(store: Store): Promise<void> {
  const waiting = await store.write(async (tx) => {
    const counts = await Promise.all([tx.objectStore("outbox").count(), tx.objectStore("uploads").count(), tx.objectStore("refused").count()]);
    const left = counts.reduce((sum, count) => sum + count, 0);
    if (left > 0) return left;
    for (const table of ["records", "changes", "media"] as const) await tx.objectStore(table).clear();
    for (const key of ["cursor", "epoch", "unsaved_since", "left_at", "let_go", "newer", "cleared", "report_copies", "price_draft", "thing_drafts"]) await tx.objectStore("meta").delete(key);
    return 0;
  });
  if (waiting > 0) throw new RangeError(`${waiting} edits or files are on this phone alone.`);
  store.tell(Object.keys(records.kinds).map((kind) => ({ record: "", kind, parents: [] })));
}
