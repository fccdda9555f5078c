// Reads a record with all that hangs on it, taken off or not, and every change of them: what a history is made of.
import type { Database } from "./database.ts";
import type { Change, StoredRecord } from "./shape.ts";

export interface Family { records: StoredRecord[]; changes: Change[] }

/** One transaction, so that records and changes belong together; `changes` in the order of their stamps. */
export async function readFamily(db: Database, root: string): Promise<Family> {
  const tx = db.transaction(["records", "changes"]);
  const table = tx.objectStore("records");
  const found = new Map<string, StoredRecord>();
  const first = await table.get(root);
  for (let newest = first ? [first] : []; newest.length > 0;) {
    for (const record of newest) found.set(record.id, record);
    const below = await Promise.all(newest.map((record) => table.index("parents").getAll(record.id)));
    newest = [...new Map(below.flat().map((record) => [record.id, record])).values()].filter((record) => !found.has(record.id));
  }
  const changes = await Promise.all([...found.keys()].map((id) => tx.objectStore("changes").index("field").getAll(IDBKeyRange.bound([id, ""], [id, "\uffff"]))));
  return { records: [...found.values()], changes: changes.flat().sort((a, b) => (a.stamp < b.stamp ? -1 : 1)) };
}
