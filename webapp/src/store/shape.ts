// What lies in this phone's database: its tables, their indexes, and the shapes of what they hold.
import type { DBSchema } from "idb";

/** One field's new value, as it is kept, sent and merged; the protocol in backend/barnlight/sync/README.md says more. */
export interface Change {
  id: string;
  space: string;
  kind: string;
  record: string;
  field: string;
  value: unknown;
  stamp: string;
  base: string | null;
  settles: string[];
  device: string;
  author: string;
  schema: number;
  /** Given by the server; absent while only this phone knows the change. */
  number?: number;
}

/** The winner of one field. */
export interface FieldState { value: unknown; change: string; stamp: string; author: string }

/** A record as stored: winners by field, and the ids of the records it hangs on. */
export interface StoredRecord { id: string; kind: string; fields: Record<string, FieldState>; parents: string[] }

/** Bytes by their SHA-256. Kept as ArrayBuffer: WebKit loses Blobs. */
export interface StoredMedia { hash: string; type: string; bytes: ArrayBuffer; confirmed: boolean; added_ms: number }

/** A change that the server would not take, with its words; it stays on this phone. */
export interface Refusal { id: string; change: Change; reason: string; message: string }

export interface Tables extends DBSchema {
  records: { key: string; value: StoredRecord; indexes: { kind: string; parents: string } };
  changes: { key: string; value: Change; indexes: { field: [string, string] } };
  outbox: { key: number; value: { seq?: number; change: string }; indexes: { change: string } };
  media: { key: string; value: StoredMedia };
  uploads: { key: string; value: { hash: string } };
  refused: { key: string; value: Refusal };
  meta: { key: string; value: unknown };
}

/** Of the database. */
export const VERSION = 1;
/** Of the changes this app makes and understands. */
export const SCHEMA = 1;
