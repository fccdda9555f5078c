// The phone's book: every edit is one transaction of changes, record, outbox and clock, so a kill at any moment loses none.
import { tick } from "../domain/clock.ts";
import { leaves, sameValue, versions as versionsOf } from "../domain/merge.ts";
import { openDatabase, type Database } from "./database.ts";
import { storeError, StoreError } from "./errors.ts";
import { Media, type MediaFile } from "./media.ts";
import { readFamily, type Family } from "./family.ts";
import { catchUp, take, type Touched, type Writing } from "./merging.ts";
import { Meta } from "./meta.ts";
import { Outbox } from "./outbox.ts";
import { randomId } from "./random_id.ts";
import { SCHEMA, type Change, type FieldState, type StoredRecord } from "./shape.ts";
import { emptyLike } from "./empty_like.ts";

export { StoreError } from "./errors.ts";
export type { Change } from "./shape.ts";
export type { Touched } from "./merging.ts";

/** A record as screens read it: `values` are the winners. */
export interface Rec { id: string; kind: string; values: Record<string, any>; fields: Record<string, FieldState> }

/** A record and the fields of it to save. */
export interface RecordValues { kind: string; id: string; values: Record<string, unknown> }

type Make = (held: unknown) => unknown;

/** One field's new value, or how it is made from the present one; `base` where the author looked at another change than the winner, `settles` what a pick lays aside. */
interface Entry { field: string; value?: unknown; make?: Make; base?: string; settles?: string[] }

/** The last edit, and what it put over. */
interface UndoStep { kind: string; record: string; fresh: boolean; ms: number; before: Record<string, unknown>; after: Record<string, unknown> }

interface Edited { touched: Touched; step: UndoStep; made: string[] }

export type Listener = (touched: readonly Touched[]) => void;

const WRITE_TABLES = ["records", "changes", "outbox", "media", "uploads", "refused", "meta"] as const;
const UNDO_STEPS = 50;
/** Words saved again within this time were still being typed. */
const TYPING_MS = 60_000;
/** Stands beside edits made before anybody gave a name; the protocol asks for one. */
const UNNAMED = "Unnamed phone";

export class Store {
  readonly meta: Meta;
  readonly media: Media;
  readonly out: Outbox;
  /** True when this opening found no book and began one. */
  begun = false;
  /** Called when the browser took the database away; screens then say so. */
  onLost: () => void = () => undefined;
  readonly #listeners = new Set<Listener>();
  readonly #channel: BroadcastChannel | null;
  readonly #steps: UndoStep[] = [];
  #lost = false;

  constructor(readonly database: Database, name: string, readonly nowMs: () => number) {
    this.meta = new Meta(this);
    this.media = new Media(this);
    this.out = new Outbox(this);
    this.#channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel(`barnlight-${name}`);
    this.#channel?.addEventListener("message", (event) => { for (const listener of this.#listeners) listener(event.data as Touched[]); });
  }

  /** Saves fields of one record together; resolves once they are on the phone's disk. Unchanged values are left alone. */
  async set(kind: string, record: string, values: Record<string, unknown>): Promise<void> {
    const done = await this.#edit(kind, record, entriesOf(values));
    if (done) this.#remember(done.step);
  }

  /** Saves one field made from what it holds by then: of two quick edits of one list, the second builds on the first. */
  async change<T>(kind: string, record: string, field: string, make: (held: T | undefined) => T): Promise<void> {
    const done = await this.#edit(kind, record, [{ field, make: make as Make }]);
    if (done) this.#remember(done.step);
  }

  /** Saves a new record and gives its id. */
  async create(kind: string, values: Record<string, unknown>, id = randomId()): Promise<string> {
    await this.set(kind, id, values);
    return id;
  }

  /** Saves bytes and new records that name them together: after a kill at any moment all of it is there, or nothing. */
  createAll(file: MediaFile, records: readonly RecordValues[]): Promise<void> {
    return this.setAll(records, file);
  }

  /** Saves fields of many records in one transaction, with the bytes they name, if any. Each stays a step of its own to undo. */
  async setAll(records: readonly RecordValues[], file?: MediaFile): Promise<void> {
    const edits = await this.write(async (tx) => {
      if (file) await this.media.keep(tx, file);
      const done: (Edited | null)[] = [];
      for (const { kind, id, values } of records) done.push(await this.#put(tx, kind, id, entriesOf(values)));
      return done.filter((one) => one !== null);
    });
    this.tell(edits.map(({ touched }) => touched));
    for (const { step } of edits) this.#remember(step);
  }

  /** Takes a record off: it stays in the history, and `set(..., { deleted: false })` brings it back. */
  remove(kind: string, id: string): Promise<void> {
    return this.set(kind, id, { deleted: true });
  }

  /** Puts the last edit of this tab back, as a new edit; gives the record it touched, or null when there is nothing to undo. */
  async undo(): Promise<{ kind: string; record: string } | null> {
    const step = this.#steps.pop();
    if (!step) return null;
    const values = step.fresh ? { deleted: true }
      : Object.fromEntries(Object.keys(step.after).map((field) => [field, step.before[field] ?? emptyLike(step.after[field])]));
    try {
      await this.#edit(step.kind, step.record, entriesOf(values));
    } catch (error) {
      this.#steps.push(step);
      throw error;
    }
    return { kind: step.kind, record: step.record };
  }

  /**
   * Picks one of several versions of a field; the others stay in the history as settled. Gives the way back: each version
   * is said again without knowing of the other, so that the choice stands open as before.
   */
  async pick(record: string, field: string, chosen: Change): Promise<() => Promise<void>> {
    const all = await this.fieldHistory(record, field);
    const [open, shown] = [leaves(all), versionsOf(all)];
    const done = await this.#edit(chosen.kind, record, [{ field, value: chosen.value, settles: open.map((change) => change.id) }]);
    const base = done?.made[0];
    return async () => {
      // The one that had won is said last, and so wins again.
      if (base) await this.#edit(chosen.kind, record, [...shown].reverse().map(({ value }) => ({ field, value, base })));
    };
  }

  async get(id: string): Promise<Rec | undefined> {
    const record = await this.read((db) => db.get("records", id));
    return record && asRec(record);
  }

  async byKind(kind: string): Promise<Rec[]> {
    return (await this.read((db) => db.getAllFromIndex("records", "kind", kind))).filter(present).map(asRec);
  }

  /** Records that name `parent` in one of their parent fields, those taken off left out. */
  async children(parent: string, kind?: string): Promise<Rec[]> {
    const found = await this.read((db) => db.getAllFromIndex("records", "parents", parent));
    return found.filter((record) => present(record) && (kind === undefined || record.kind === kind)).map(asRec);
  }

  /** Changes of a field whose authors did not know of each other, latest first; one alone means agreed. */
  async versions(record: string, field: string): Promise<Change[]> {
    return versionsOf(await this.fieldHistory(record, field));
  }

  /** Every change of one field, in no order. */
  fieldHistory(record: string, field: string): Promise<Change[]> {
    return this.read((db) => db.getAllFromIndex("changes", "field", [record, field]));
  }

  /** Every change of a record in the order of their stamps. */
  async history(record: string): Promise<Change[]> {
    const all = await this.read((db) => db.getAllFromIndex("changes", "field", IDBKeyRange.bound([record, ""], [record, "\uffff"])));
    return all.sort((a, b) => (a.stamp < b.stamp ? -1 : 1));
  }

  /** A record with all that hangs on it, taken off or not, and every change of them. */
  family(root: string): Promise<Family> {
    return this.read((db) => readFamily(db, root));
  }

  putMedia(bytes: ArrayBuffer, type: string): Promise<{ hash: string }> { return this.media.put(bytes, type); }
  getMedia(hash: string): Promise<{ bytes: ArrayBuffer; type: string } | null> { return this.media.get(hash); }
  mediaState(hash: string): Promise<"here" | "confirmed" | "elsewhere"> { return this.media.state(hash); }

  /** Tells `listener` of every record touched, here or in another tab; gives the way to stop. */
  subscribe(listener: Listener): () => void {
    this.#listeners.add(listener);
    return () => { this.#listeners.delete(listener); };
  }

  tell(touched: readonly Touched[]): void {
    if (touched.length === 0) return;
    for (const listener of this.#listeners) listener(touched);
    this.#channel?.postMessage(touched);
  }

  async read<T>(question: (db: Database) => Promise<T>): Promise<T> {
    try {
      return await question(this.database);
    } catch (error) {
      throw storeError(error);
    }
  }

  /** Runs `work` in one transaction over every table; either all of it is kept or nothing. Strict: on the disk when it resolves. */
  async write<T>(work: (tx: Writing) => Promise<T>): Promise<T> {
    if (this.#lost) throw new StoreError("lost", "the phone took its storage back");
    let tx: Writing;
    try {
      tx = this.database.transaction([...WRITE_TABLES], "readwrite", { durability: "strict" }) as unknown as Writing;
    } catch (error) {
      throw storeError(error);
    }
    try {
      const result = await work(tx);
      await tx.done;
      return result;
    } catch (error) {
      // `done` also fails when the work did; asked for here so that no rejection goes unheard.
      tx.done.catch(() => undefined);
      try { tx.abort(); } catch { /* it had ended by itself */ }
      throw storeError(tx.error ?? error);
    }
  }

  lose(): void {
    this.#lost = true;
    this.onLost();
  }

  close(): void {
    this.#channel?.close();
    this.database.close();
  }

  async #edit(kind: string, record: string, entries: readonly Entry[]): Promise<Edited | null> {
    const result = await this.write((tx) => this.#put(tx, kind, record, entries));
    if (result) this.tell([result.touched]);
    return result;
  }

  /** One edit inside of a transaction; null where nothing changes. */
  async #put(tx: Writing, kind: string, record: string, entries: readonly Entry[]): Promise<Edited | null> {
    const meta = tx.objectStore("meta");
    const [device, space, author, clock, known] = await Promise.all([
      meta.get("device"), meta.get("space"), meta.get("author"), meta.get("clock"), tx.objectStore("records").get(record)]);
    let stamp = (clock as string | undefined) ?? null;
    let touched: Touched | null = null;
    const step: UndoStep = { kind, record, fresh: !known, ms: this.nowMs(), before: {}, after: {} };
    const made: string[] = [];
    for (const { field, value: given, make, base, settles = [] } of entries) {
      const winner = known?.fields[field];
      const value = make ? make(winner?.value) : given;
      if (value === undefined || (winner && sameValue(winner.value, value) && settles.length === 0 && base === undefined)) continue;
      stamp = tick(stamp, this.nowMs(), device as string);
      const change: Change = {
        id: randomId(), space: space as string, kind, record, field, value, stamp, base: base ?? winner?.change ?? null, settles, device: device as string, author: (author as string | undefined) || UNNAMED, schema: SCHEMA,
      };
      touched = await take(tx, change);
      await tx.objectStore("outbox").add({ change: change.id });
      made.push(change.id);
      step.before[field] = winner?.value;
      step.after[field] = value;
    }
    if (!touched) return null;
    await meta.put(stamp, "clock");
    if (!(await meta.get("unsaved_since"))) await meta.put(this.nowMs(), "unsaved_since");
    return { touched, step, made };
  }

  #remember(step: UndoStep): void {
    const last = this.#steps.at(-1);
    if (last && typedOn(last, step)) {
      last.after = step.after;
      last.ms = step.ms;
      return;
    }
    this.#steps.push(step);
    if (this.#steps.length > UNDO_STEPS) this.#steps.shift();
  }
}

/** Whether an edit goes on where the last one of the same words stopped: one step to undo for both. */
function typedOn(last: UndoStep, next: UndoStep): boolean {
  const [field, ...more] = Object.keys(next.after);
  return more.length === 0 && !last.fresh && last.record === next.record && Object.keys(last.after).join() === field
    && typeof last.after[field!] === "string" && typeof next.after[field!] === "string" && next.ms - last.ms < TYPING_MS;
}

const present = (record: StoredRecord) => record.fields["deleted"]?.value !== true;

const entriesOf = (values: Record<string, unknown>): Entry[] => Object.entries(values).map(([field, value]) => ({ field, value }));

function asRec(record: StoredRecord): Rec {
  return { id: record.id, kind: record.kind, fields: record.fields, values: Object.fromEntries(Object.entries(record.fields).map(([field, state]) => [field, state.value])) };
}

/** Opens this phone's book, making device and space ids on the first visit. Throws StoreError. */
export async function openStore(name = "barnlight", nowMs: () => number = Date.now): Promise<Store> {
  let store: Store | undefined;
  const database = await openDatabase(name, () => store?.lose());
  store = new Store(database, name, nowMs);
  await store.write(async (tx) => {
    const meta = tx.objectStore("meta");
    store!.begun = !(await meta.get("device"));
    for (const key of ["device", "space"] as const) if (!(await meta.get(key))) await meta.put(randomId(), key);
    await catchUp(tx);
  });
  return store;
}
