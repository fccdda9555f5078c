// Erases a sale or a seller on a phone that never had a server, by the same rule as the server does it everywhere.
import records from "@catalogue/records.json";
import { drop } from "./erasing.ts";
import type { Database } from "./database.ts";
import type { StoredRecord } from "./shape.ts";
import type { Store } from "./store.ts";

export type Erasable = "session" | "seller";

/** What one erasure takes on this phone: ids with their kind; `loose` are sales that stay, without their seller. */
export interface Reach { ids: Map<string, string>; changes: number; files: { hash: string; bytes: number }[]; loose: StoredRecord[] }

/** A sale does not belong to its seller; everything else belongs to each of its parents. */
const owned = (record: StoredRecord): string[] =>
  ((records.kinds as Record<string, { parents: string[] }>)[record.kind]?.parents ?? []).filter((field) => !(record.kind === "session" && field === "seller"));

const isLater = (record: StoredRecord): boolean => !Object.hasOwn(records.kinds, record.kind);

const named = (record: StoredRecord | undefined, field: string): string | undefined => {
  const value = record?.fields[field]?.value;
  return typeof value === "string" ? value : undefined;
};

/** What would go; nothing is done yet. */
export function reachOf(store: Store, kind: Erasable, id: string): Promise<Reach> {
  return store.read(async (db) => {
    const found = await withChildren(db, kind === "seller" ? await samePerson(db, id) : await present(db, [id]));
    if (kind === "session") {
      const pieces = new Set([...found.values()].map((record) => (record.kind === "visit" ? named(record, "piece") : undefined)));
      for (const piece of pieces) {
        const looks = piece ? await db.getAllFromIndex("records", "parents", piece) : [];
        const elsewhere = looks.some((look) => look.kind === "visit" && !found.has(look.id));
        if (piece && !elsewhere) for (const [one, record] of await withChildren(db, await present(db, [piece]))) found.set(one, record);
      }
    }
    const loose = kind === "session" ? [] : (await db.getAllFromIndex("records", "kind", "session")).filter((session) => !found.has(session.id) && found.has(named(session, "seller") ?? ""));
    return { ids: new Map([...found.values()].map((record) => [record.id, record.kind])), ...(await measured(db, found)), loose };
  });
}

/** Erases it. The sales that stay lose their seller first: an ordinary edit, which tells no name. */
export async function eraseHere(store: Store, { ids, loose }: Reach): Promise<void> {
  for (const session of loose) await store.set("session", session.id, { seller: null });
  store.tell(await store.write((tx) => drop(tx, [...ids.keys()])));
}

const present = async (db: Database, ids: readonly string[]): Promise<StoredRecord[]> =>
  (await Promise.all(ids.map((id) => db.get("records", id)))).filter((record) => record !== undefined);

/** Records that hang on `id`; of kinds that only newer apps know, those that name it in any field. */
async function hangingOn(db: Database, id: string, later: readonly StoredRecord[]): Promise<StoredRecord[]> {
  const known = await db.getAllFromIndex("records", "parents", id);
  return [...known, ...later.filter((record) => Object.keys(record.fields).some((field) => named(record, field) === id))];
}

async function withChildren(db: Database, first: readonly StoredRecord[]): Promise<Map<string, StoredRecord>> {
  const found = new Map<string, StoredRecord>();
  const later = (await db.getAll("records")).filter(isLater);
  for (let newest = [...first]; newest.length > 0;) {
    for (const record of newest) found.set(record.id, record);
    const below = (await Promise.all(newest.map((record) => hangingOn(db, record.id, later)))).flat();
    newest = below.filter((record) => !found.has(record.id) && (isLater(record) || owned(record).some((field) => found.has(named(record, field) ?? ""))));
  }
  return found;
}

/** The seller with all entries that were found to be the same person. */
async function samePerson(db: Database, id: string): Promise<StoredRecord[]> {
  const sellers = await db.getAllFromIndex("records", "kind", "seller");
  const same = new Set([id]);
  for (let before = 0; before < same.size;) {
    before = same.size;
    for (const seller of sellers) {
      const other = named(seller, "same_as");
      if (other && (same.has(seller.id) || same.has(other))) same.add(seller.id).add(other);
    }
  }
  return sellers.filter((seller) => same.has(seller.id));
}

/** Edits, and the photos and sounds that only these records name. */
async function measured(db: Database, found: ReadonlyMap<string, StoredRecord>): Promise<Pick<Reach, "changes" | "files">> {
  const [mine, others] = [new Set<string>(), new Set<string>()];
  let changes = 0;
  for (const change of await db.getAll("changes")) {
    if (found.has(change.record)) changes += 1;
    const hash = change.field === "file" ? (change.value as { hash?: unknown } | null)?.hash : undefined;
    if (typeof hash === "string") (found.has(change.record) ? mine : others).add(hash);
  }
  const files = await Promise.all([...mine].filter((hash) => !others.has(hash)).map(async (hash) => ({ hash, bytes: (await db.get("media", hash))?.bytes.byteLength ?? 0 })));
  return { changes, files };
}
