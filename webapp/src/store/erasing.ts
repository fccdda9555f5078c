// Drops records that a person had erased, with all this phone holds of them: history, what waits to be sent, photos, sounds, copies of reports, things typed at them.
import type { Touched, Writing } from "./merging.ts";
import type { MetaFacts, ReportCopy } from "./meta.ts";
import type { Change, StoredRecord } from "./shape.ts";

/** The ids that a change from the server tells to drop; none for any other change. A file never speaks for the server. */
export function erasedBy(change: Change): string[] {
  const told = change.kind === "erasure" && change.field === "records" && Array.isArray(change.value) ? change.value : [];
  return told.filter((id): id is string => typeof id === "string");
}

/** Drops these records inside one transaction; those not here are no harm. Gives who must hear of it. */
export async function drop(tx: Writing, ids: readonly string[]): Promise<Touched[]> {
  const touched: Touched[] = [];
  const [files, gone] = [new Set<string>(), new Set<string>()];
  for (const id of ids) {
    const record = await tx.objectStore("records").get(id);
    const changes = await tx.objectStore("changes").index("field").getAll(IDBKeyRange.bound([id, ""], [id, "\uffff"]));
    for (const change of changes) {
      const hash = hashIn(change.value);
      if (hash) files.add(hash);
      gone.add(change.id);
      await tx.objectStore("changes").delete(change.id);
      await tx.objectStore("refused").delete(change.id);
      const waiting = await tx.objectStore("outbox").index("change").getKey(change.id);
      if (waiting !== undefined) await tx.objectStore("outbox").delete(waiting);
    }
    await tx.objectStore("records").delete(id);
    if (record) touched.push({ record: id, kind: record.kind, parents: record.parents });
  }
  await dropFiles(tx, files);
  if (await dropNewer(tx, gone)) touched.push({ record: "meta:newer", kind: "meta", parents: [] });
  if (await dropTyped(tx, new Set(ids))) touched.push({ record: "meta:thing_drafts", kind: "meta", parents: [] });
  if (await dropCopies(tx, new Set(ids))) touched.push({ record: "meta:report_copies", kind: "meta", parents: [] });
  return touched;
}

/** What is gone waits for no newer app to understand it. */
async function dropNewer(tx: Writing, gone: ReadonlySet<string>): Promise<boolean> {
  const kept = ((await tx.objectStore("meta").get("newer")) as string[] | undefined) ?? [];
  const stay = kept.filter((id) => !gone.has(id));
  if (stay.length === kept.length) return false;
  await tx.objectStore("meta").put(stay, "newer");
  return true;
}

/** What was typed at a piece that went, and not added to it. */
async function dropTyped(tx: Writing, gone: ReadonlySet<string>): Promise<boolean> {
  const drafts = Object.entries(((await tx.objectStore("meta").get("thing_drafts")) as MetaFacts["thing_drafts"] | undefined) ?? {});
  const stay = drafts.filter(([piece]) => !gone.has(piece));
  if (stay.length === drafts.length) return false;
  await tx.objectStore("meta").put(Object.fromEntries(stay), "thing_drafts");
  return true;
}

/** Copies of reports about what went, or of reports that went themselves because they showed it. */
async function dropCopies(tx: Writing, gone: ReadonlySet<string>): Promise<boolean> {
  const copies = ((await tx.objectStore("meta").get("report_copies")) as ReportCopy[] | undefined) ?? [];
  const stay = copies.filter(({ about, publication }) => !gone.has(about) && !gone.has(publication));
  if (stay.length === copies.length) return false;
  await tx.objectStore("meta").put(stay, "report_copies");
  return true;
}

/** Photos and sounds go unless a record that stays names them. */
async function dropFiles(tx: Writing, files: Set<string>): Promise<void> {
  if (files.size === 0) return;
  const records = await Promise.all(["photo", "recording"].map((kind) => tx.objectStore("records").index("kind").getAll(kind)));
  const named = new Set(records.flat().map((record: StoredRecord) => hashIn(record.fields["file"]?.value)));
  for (const hash of files) {
    if (named.has(hash)) continue;
    await tx.objectStore("media").delete(hash);
    await tx.objectStore("uploads").delete(hash);
  }
}

function hashIn(value: unknown): string | undefined {
  const hash = typeof value === "object" && value !== null ? (value as { hash?: unknown }).hash : undefined;
  return typeof hash === "string" ? hash : undefined;
}
