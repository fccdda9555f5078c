// What still has to reach the server, and what came back: sync's side of the store.
import { parse, receive } from "../domain/clock.ts";
import { drop, erasedBy } from "./erasing.ts";
import { decideAnew, isServers, take, type Touched, type Writing } from "./merging.ts";
import type { Change, Refusal } from "./shape.ts";
import type { Store } from "./store.ts";

export interface PushResult { id: string; result: "ok" | "duplicate" | "refused" | "deferred"; reason?: string; message?: string; number?: number; stamp?: string }
export interface PulledPage { epoch: string; next: number; changes: (Change & { number: number })[] }

/** A clock further ahead than this was set wrong once; the server gives stamps beyond it anew. */
const AHEAD_MS = 5 * 60 * 1000;

export class Outbox {
  readonly #store: Store;

  constructor(store: Store) { this.#store = store; }

  async counts(): Promise<{ changes: number; media: number; refused: number }> {
    const [changes, media, refused] = await this.#store.read((db) => Promise.all([db.count("outbox"), db.count("uploads"), db.count("refused")]));
    return { changes, media, refused };
  }

  /** The oldest changes that wait, in the order they were made. */
  async batch(most: number): Promise<Change[]> {
    return this.#store.read(async (db) => {
      const tx = db.transaction(["outbox", "changes"]);
      const rows = await tx.objectStore("outbox").getAll(undefined, most);
      const changes = await Promise.all(rows.map((row) => tx.objectStore("changes").get(row.change)));
      return changes.filter((change): change is Change => change !== undefined);
    });
  }

  /**
   * Takes the server's word on each change: the settled ones leave the outbox, refused ones are kept with their reason.
   * An answer of another book than the phone is in by now (`space` asked with) says nothing about this one, and is dropped.
   */
  async settle(results: readonly PushResult[], space?: string): Promise<void> {
    const touched = await this.#store.write(async (tx) => {
      const meta = tx.objectStore("meta");
      if (space !== undefined && (await meta.get("space")) !== space) return [];
      const device = (await meta.get("device")) as string;
      let clock = ((await meta.get("clock")) as string | undefined) ?? null;
      const moved: Touched[] = [];
      for (const result of results) {
        const key = await tx.objectStore("outbox").index("change").getKey(result.id);
        if (key !== undefined) await tx.objectStore("outbox").delete(key);
        const change = await tx.objectStore("changes").get(result.id);
        if (!change) continue;
        if (result.reason === "erased") {
          moved.push(...await drop(tx, [change.record]));
          continue;
        }
        if (result.result === "refused") {
          const words = { reason: result.reason ?? "refused", message: result.message ?? "The server did not take this." };
          await tx.objectStore("refused").put({ id: change.id, change, ...words });
          continue;
        }
        await tx.objectStore("refused").delete(change.id); // another book may take what one refused
        const stamp = result.stamp ?? change.stamp;
        await tx.objectStore("changes").put({ ...change, stamp, ...(result.number !== undefined && { number: result.number }) });
        if (stamp === change.stamp) continue;
        // The server's stamp may lie after this phone's clock; an edit made from here on must not lose to it.
        clock = receive(clock, stamp, this.#store.nowMs(), device);
        const anew = await decideAnew(tx, change);
        if (anew) moved.push(anew);
      }
      if ((await tx.objectStore("outbox").count()) === 0) {
        await meta.delete("unsaved_since");
        if (clock && parse(clock)[0] > this.#store.nowMs() + AHEAD_MS) clock = await latestHeld(tx);
      }
      if (clock) await meta.put(clock, "clock");
      return moved;
    });
    this.#store.tell([...touched, { record: "meta:unsaved_since", kind: "meta", parents: [] }]);
  }

  /**
   * Takes a page of the server's changes; rows and cursor in one transaction, so the cursor never runs ahead of them.
   * A page asked for by another number or in another book than now (`asked`) would skip rows, and is dropped.
   */
  async takePage(page: PulledPage, asked?: { after: number; space: string }): Promise<void> {
    const touched = await this.#store.write(async (tx) => {
      const meta = tx.objectStore("meta");
      if (asked && ((await meta.get("space")) !== asked.space || ((await meta.get("cursor")) ?? 0) !== asked.after)) return [];
      const device = (await meta.get("device")) as string;
      let clock = ((await meta.get("clock")) as string | undefined) ?? null;
      const moved: Touched[] = [];
      for (const change of page.changes) {
        const one = await take(tx, change);
        if (one) moved.push(one);
        moved.push(...await drop(tx, erasedBy(change)));
        clock = receive(clock, change.stamp, this.#store.nowMs(), device);
      }
      if (clock) await meta.put(clock, "clock");
      await meta.put(page.next, "cursor");
      await meta.put(page.epoch, "epoch");
      return moved;
    });
    this.#store.tell(touched);
  }

  /** Puts every change and every photo or sound of this phone back into the queue, as when the server came back from a backup. */
  async offerAll(epoch: string): Promise<void> {
    await this.#store.write((tx) => offer(tx, epoch));
  }

  /** Moves this phone's book into a space: everything it holds is offered there. */
  async join(space: string, name: string, epoch: string): Promise<void> {
    await this.#store.write(async (tx) => {
      await tx.objectStore("meta").put(space, "space");
      await tx.objectStore("meta").put(name, "space_name");
      await offer(tx, epoch);
    });
  }

  /** Takes changes from a file: merged like a page of the server's, and offered to the server. */
  async takeFile(changes: readonly Change[]): Promise<number> {
    const touched = await this.#store.write(async (tx) => {
      const meta = tx.objectStore("meta");
      const [space, device] = [(await meta.get("space")) as string, (await meta.get("device")) as string];
      let clock = ((await meta.get("clock")) as string | undefined) ?? null;
      const moved: Touched[] = [];
      for (const change of [...changes].sort(byStamp)) {
        if (isServers(change.kind)) continue;
        const one = await take(tx, { ...change, space });
        if (!one) continue;
        moved.push(one);
        clock = receive(clock, change.stamp, this.#store.nowMs(), device);
        await tx.objectStore("outbox").add({ change: change.id });
      }
      if (clock) await meta.put(clock, "clock");
      return moved;
    });
    this.#store.tell(touched);
    return touched.length;
  }

  refusals(): Promise<Refusal[]> {
    return this.#store.read((db) => db.getAll("refused"));
  }

  /** The person has read why; the edit itself stays on this phone. */
  async dismiss(id: string): Promise<void> {
    await this.#store.write((tx) => tx.objectStore("refused").delete(id));
  }
}

/** The steps of `offerAll` inside a transaction: book, queue, cursor and epoch change together or not at all. */
async function offer(tx: Writing, epoch: string): Promise<void> {
  await tx.objectStore("outbox").clear();
  // What only the server makes, such as a report, is its own to keep: it would not take it from a phone.
  // The oldest go first: stamps that lie ahead are given anew as they arrive, and must keep their order over many batches.
  for (const change of (await tx.objectStore("changes").getAll()).sort(byStamp)) {
    if (!isServers(change.kind)) await tx.objectStore("outbox").add({ change: change.id });
  }
  for (const hash of await tx.objectStore("media").getAllKeys()) await tx.objectStore("uploads").put({ hash });
  await tx.objectStore("meta").put(0, "cursor");
  await tx.objectStore("meta").put(epoch, "epoch");
}

const byStamp = (a: Change, b: Change) => (a.stamp < b.stamp ? -1 : 1);

/** The largest stamp this phone holds. Nothing waits now, so a clock that ran ahead may come back to it, and no further. */
async function latestHeld(tx: Writing): Promise<string | null> {
  const stamps = (await tx.objectStore("changes").getAll()).map((change) => change.stamp);
  return stamps.reduce<string | null>((latest, stamp) => (latest === null || stamp > latest ? stamp : latest), null);
}
