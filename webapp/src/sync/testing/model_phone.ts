// One phone of the machine: the real store and the real round over a failing database, and what its person was promised.
import { expect } from "vitest";
import { wins } from "../../domain/merge.ts";
import type { Change, StoredMedia, StoredRecord } from "../../store/shape.ts";
import { openStore, type Store } from "../../store/store.ts";
import { exchange } from "../round.ts";
import { aside, revive } from "./failing_database.ts";
import type { FakeServer } from "./fake_server.ts";

export const RECORDS = ["1".repeat(32), "2".repeat(32)] as const;
export const FIELDS = ["title", "note"] as const;
const BOOK = "b".repeat(32);

export interface Held {
  changes: Map<string, Change>;
  records: StoredRecord[];
  outbox: Set<string>;
  refused: Set<string>;
  media: Map<string, StoredMedia>;
  uploads: Set<string>;
  clock: string | undefined;
  cursor: number;
  epoch: string | undefined;
  device: string;
}

/** A fault to try: it spoils one opened store. */
export type Plant = (store: Store) => void;

export class ModelPhone {
  store!: Store;
  /** Wall clock against the server's. */
  offsetMs = 0;
  /** Values and hashes whose saving was confirmed to the person. */
  readonly values = new Map<string, { record: string; field: string }>();
  readonly photos = new Set<string>();

  constructor(readonly name: string, readonly server: FakeServer, readonly nowMs: () => number, readonly plant: Plant) {}

  /** Opens the page, as after a kill; once more if it fails. */
  async open(): Promise<void> {
    (this.store as Store | undefined)?.close();
    const opened = () => {
      revive();
      return openStore(this.name, () => this.nowMs() + this.offsetMs);
    };
    this.store = await opened().catch(opened);
    this.plant(this.store);
  }

  async pair(): Promise<void> {
    await this.store.out.join(BOOK, "Book", this.server.epoch);
  }

  /** An edit; either it is there and is what the field holds, or the person is told and nothing is. */
  async edit(record: string, field: string, value: string): Promise<void> {
    const before = await aside(() => this.held());
    const kept = await this.store.set("piece", record, { [field]: value }).then(() => true, () => false);
    const now = await aside(() => this.held());
    const made = [...now.changes.values()].find((change) => change.value === value);
    expect(made !== undefined, "an edit is there if and only if it was confirmed").toBe(kept);
    if (!made) return;
    this.values.set(value, { record, field });
    const latest = [...before.changes.values()].map((change) => change.stamp).reduce((a, b) => (a > b ? a : b), "");
    expect(made.stamp > latest, "an edit is later than all that this phone holds").toBe(true);
    expect(now.records.find((one) => one.id === record)?.fields[field]?.value, "an edit never loses to what was seen").toBe(value);
  }

  async photo(text: string): Promise<void> {
    const kept = await this.store.putMedia(new TextEncoder().encode(text).buffer as ArrayBuffer, "image/jpeg").catch(() => null);
    if (kept) this.photos.add(kept.hash);
  }

  /** One round of sync; what fails in it is the line's or the disk's, and the next one goes on. */
  async round(): Promise<void> {
    await exchange(this.store, async () => undefined).catch(() => undefined);
  }

  async letGo(): Promise<void> {
    await this.store.media.letGo([...this.photos]).catch(() => undefined);
  }

  async held(): Promise<Held> {
    const tx = this.store.database.transaction(["changes", "records", "outbox", "refused", "media", "uploads", "meta"]);
    const meta = tx.objectStore("meta");
    const [changes, records, outbox, refused, media, uploads, clock, cursor, epoch, device] = await Promise.all([
      tx.objectStore("changes").getAll(), tx.objectStore("records").getAll(), tx.objectStore("outbox").getAll(), tx.objectStore("refused").getAllKeys(),
      tx.objectStore("media").getAll(), tx.objectStore("uploads").getAllKeys(), meta.get("clock"), meta.get("cursor"), meta.get("epoch"), meta.get("device")]);
    return {
      changes: new Map(changes.map((change) => [change.id, change])), records, outbox: new Set(outbox.map((row) => row.change)), refused: new Set(refused),
      media: new Map(media.map((one) => [one.hash, one])), uploads: new Set(uploads),
      clock: clock as string | undefined, cursor: (cursor as number | undefined) ?? 0, epoch: epoch as string | undefined, device: device as string,
    };
  }

  /** What must hold at any moment, whatever failed before. */
  async check(): Promise<void> {
    const held = await aside(() => this.held());
    const { server } = this;
    const onServer = new Map(server.changes.map((change) => [change.id, change]));
    const values = new Set([...held.changes.values()].map((change) => change.value));
    for (const value of this.values.keys()) expect(values.has(value), `the saved edit ${value} is there`).toBe(true);
    for (const change of held.changes.values()) {
      const safe = onServer.has(change.id) || held.outbox.has(change.id) || held.refused.has(change.id);
      expect(safe || held.epoch !== server.epoch, "what the server has not got waits or is shown as refused").toBe(true);
      expect(change.stamp.slice(0, 22) <= (held.clock ?? "").slice(0, 22), "the clock is not behind what is held").toBe(true);
    }
    for (const record of held.records) {
      for (const [field, state] of Object.entries(record.fields)) {
        const all = [...held.changes.values()].filter((change) => change.record === record.id && change.field === field);
        expect(state.change, "a field is what its history says").toBe(all.reduce((best, one) => (wins(one, best) ? one : best)).id);
      }
    }
    if (held.epoch === server.epoch) {
      const skipped = server.changes.filter((change) => change.number <= held.cursor && !held.changes.has(change.id));
      expect(skipped, "the cursor never skips").toEqual([]);
    }
    for (const hash of this.photos) {
      const here = held.media.get(hash);
      expect(here !== undefined || server.media.has(hash), "a photo is always somewhere").toBe(true);
      if (here) expect(server.media.has(hash) || held.uploads.has(hash), "a photo that the server lacks waits to be sent").toBe(true);
    }
    const own = [...held.changes.values()].filter((change) => change.device === held.device).map((change) => change.stamp);
    expect(new Set(own).size, "no stamp is made twice").toBe(own.length);
  }
}
