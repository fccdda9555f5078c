// Opens this phone's database and makes its tables.
import { openDB, type IDBPDatabase } from "idb";
import { storeError, StoreError } from "./errors.ts";
import { VERSION, type Tables } from "./shape.ts";

export type Database = IDBPDatabase<Tables>;

/** Opens the database; `onLost` is called when the browser closes it without being asked. */
export async function openDatabase(name: string, onLost: () => void): Promise<Database> {
  if (typeof indexedDB === "undefined") throw new StoreError("blocked", "this browser does not let pages keep anything");
  try {
    const database = await openDB<Tables>(name, VERSION, {
      upgrade(db) {
        const records = db.createObjectStore("records", { keyPath: "id" });
        records.createIndex("kind", "kind");
        records.createIndex("parents", "parents", { multiEntry: true });
        db.createObjectStore("changes", { keyPath: "id" }).createIndex("field", ["record", "field"]);
        db.createObjectStore("outbox", { keyPath: "seq", autoIncrement: true }).createIndex("change", "change");
        db.createObjectStore("media", { keyPath: "hash" });
        db.createObjectStore("uploads", { keyPath: "hash" });
        db.createObjectStore("refused", { keyPath: "id" });
        db.createObjectStore("meta");
      },
      // A newer Barnlight in another tab waits for this one to let go; letting go loses nothing.
      blocking(_current, _blocked, event) { (event.target as IDBDatabase).close(); onLost(); },
      terminated: onLost,
    });
    return database;
  } catch (error) {
    // Older Firefox says so of a private window (from memory).
    if ((error as { name?: string } | null)?.name === "InvalidStateError") throw new StoreError("blocked", "this browser does not let pages keep anything", { cause: error });
    throw storeError(error);
  }
}
