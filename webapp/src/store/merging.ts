// Takes changes into records inside one transaction: the same steps for a tap here and for a page from the server.
import type { IDBPTransaction, StoreNames } from "idb";
import records from "@catalogue/records.json";
import { wins } from "../domain/merge.ts";
import { SCHEMA, type Change, type StoredRecord, type Tables } from "./shape.ts";

export type Writing = IDBPTransaction<Tables, StoreNames<Tables>[], "readwrite">;

/** A record that changed, as listeners are told: enough to know whether their question is touched. */
export interface Touched { record: string; kind: string; parents: string[] }

// A map, because a kind from elsewhere may be called like something every object has.
const PARENTS = new Map(Object.entries(records.kinds).map(([kind, shape]) => [kind, shape.parents as string[]]));

const SERVERS = new Set(Object.entries(records.kinds).filter(([, shape]) => "server_only" in shape && shape.server_only).map(([kind]) => kind));

/** Whether only the server makes records of this kind. */
export const isServers = (kind: string): boolean => SERVERS.has(kind);

/** The ids a record hangs on, from the fields that the catalogue names as parents of its kind. */
export function parentsOf(record: Pick<StoredRecord, "kind" | "fields">): string[] {
  const named = (PARENTS.get(record.kind) ?? []).map((field) => record.fields[field]?.value);
  return [...new Set(named.filter((value): value is string => typeof value === "string"))];
}

/** Adds a change to the history and, if it wins, to its record. A change already known alters nothing and gives null. */
export async function take(tx: Writing, change: Change): Promise<Touched | null> {
  const history = tx.objectStore("changes");
  if (await history.get(change.id)) return null;
  await history.put(change);
  if (change.schema > SCHEMA) {
    await tx.objectStore("meta").put([...(await newer(tx)), change.id], "newer");
    // No record changed; those who look at its history hear of it, and those who count what is not understood.
    return { record: "meta:newer", kind: "meta", parents: [change.record] };
  }
  const table = tx.objectStore("records");
  const record = (await table.get(change.record)) ?? { id: change.record, kind: change.kind, fields: {}, parents: [] };
  const now = Object.hasOwn(record.fields, change.field) ? record.fields[change.field] : undefined;
  const before = record.parents;
  if (!now || wins(change, { id: now.change, stamp: now.stamp })) {
    record.fields[change.field] = { value: change.value, change: change.id, stamp: change.stamp, author: change.author };
    record.parents = parentsOf(record);
    await table.put(record);
  }
  // Both the old and the new parents must hear of a record that moved.
  return { record: record.id, kind: record.kind, parents: [...new Set([...before, ...record.parents])] };
}

const newer = async (tx: Writing): Promise<string[]> => ((await tx.objectStore("meta").get("newer")) as string[] | undefined) ?? [];

/** Merges what an older app kept without understanding it; call when the app may be newer than it was. */
export async function catchUp(tx: Writing): Promise<void> {
  const kept = await newer(tx);
  const changes = await Promise.all(kept.map((id) => tx.objectStore("changes").get(id)));
  const understood = changes.filter((change) => change !== undefined && change.schema <= SCHEMA) as Change[];
  if (understood.length === 0) return;
  const now = new Set(understood.map((change) => change.id));
  await tx.objectStore("meta").put(kept.filter((id) => !now.has(id)), "newer");
  for (const change of understood) {
    await tx.objectStore("changes").delete(change.id);
    await take(tx, change);
  }
}

/** Decides a field anew after a change of it got another stamp: it may no longer be the winner, or only now. */
export async function decideAnew(tx: Writing, { record: id, field }: Change): Promise<Touched | null> {
  const record = await tx.objectStore("records").get(id);
  const all = await tx.objectStore("changes").index("field").getAll([id, field]);
  const winner = all.filter((one) => one.schema <= SCHEMA).reduce<Change | undefined>((best, one) => (best && wins(best, one) ? best : one), undefined);
  if (!record || !winner) return null;
  const before = record.parents;
  record.fields[field] = { value: winner.value, change: winner.id, stamp: winner.stamp, author: winner.author };
  record.parents = parentsOf(record);
  await tx.objectStore("records").put(record);
  return { record: id, kind: record.kind, parents: [...new Set([...before, ...record.parents])] };
}
