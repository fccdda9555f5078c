// Faults of the phone's side of sync, put in on purpose, one function each: a suite that does not catch them proves nothing.
import { tick } from "../../domain/clock.ts";
import type { Writing } from "../../store/merging.ts";
import type { Store } from "../../store/store.ts";
import { aside } from "./failing_database.ts";
import type { Plant } from "./model_phone.ts";

type Method = (...given: any[]) => Promise<any>;

/** Puts a spoilt method in front of the real one of this one object. */
function spoil(owner: object, name: string, spoilt: (real: Method, ...given: any[]) => Promise<any>): void {
  const real = (owner as any)[name].bind(owner) as Method;
  (owner as any)[name] = (...given: any[]) => spoilt(real, ...given);
}

/** Does what the fault does in a transaction of its own. */
const also = (store: Store, work: (tx: Writing) => Promise<unknown>) => store.write(work);

const clockOf = (store: Store) => store.meta.get("clock");

async function putBack(store: Store, clock: string | undefined): Promise<void> {
  await also(store, (tx) => (clock === undefined ? tx.objectStore("meta").delete("clock") : tx.objectStore("meta").put(clock, "clock")));
}

async function leaveOutbox(tx: Writing, change: string): Promise<void> {
  const key = await tx.objectStore("outbox").index("change").getKey(change);
  if (key !== undefined) await tx.objectStore("outbox").delete(key);
}

export const FAULTS: Record<string, Plant> = {
  "outbox cleared on send": (store) => spoil(store.out, "batch", async (real, most) => {
    const batch = await real(most);
    await also(store, async (tx) => { for (const change of batch) await leaveOutbox(tx, change.id); });
    return batch;
  }),
  "cursor saved before its rows": (store) => spoil(store.out, "takePage", async (real, page, asked) => {
    await store.meta.set("cursor", page.next);
    return real(page, asked && { ...asked, after: page.next });
  }),
  "cursor moved without its last row": (store) => spoil(store.out, "takePage", (real, page, asked) => real({ ...page, changes: page.changes.slice(0, -1) }, asked)),
  "a page of another place is taken": (store) => spoil(store.out, "takePage", (real, page) => real({ ...page, next: page.next + 1 })),
  "received stamps not merged": (store) => spoil(store.out, "takePage", async (real, ...given) => {
    const clock = await clockOf(store);
    await real(...given);
    await putBack(store, clock);
  }),
  "pull overwrites edits that wait": (store) => spoil(store.out, "takePage", async (real, page, asked) => {
    await real(page, asked);
    await also(store, async (tx) => {
      for (const change of page.changes) {
        for (const one of await tx.objectStore("changes").index("field").getAll([change.record, change.field])) {
          if (one.number !== undefined || !(await tx.objectStore("outbox").index("change").getKey(one.id))) continue;
          await leaveOutbox(tx, one.id);
          await tx.objectStore("changes").delete(one.id);
        }
      }
    });
  }),
  "clock not kept": (store) => spoil(store, "set", async (real, ...given) => {
    const clock = await clockOf(store);
    await real(...given);
    await putBack(store, clock);
  }),
  "clock lowered while edits wait": (store) => spoil(store, "set", async (real, ...given) => {
    const device = (await store.meta.get("device"))!;
    if ((await store.out.counts()).changes > 0) await putBack(store, tick(null, store.nowMs() - 1000, device));
    return real(...given);
  }),
  "new stamp not taken over": (store) => spoil(store.out, "settle", (real, results, space) => real(results.map(({ stamp: _stamp, ...rest }: any) => rest), space)),
  "refused edits forgotten": (store) => spoil(store.out, "settle", (real, results, space) => real(results.map((one: any) => ({ ...one, result: "ok" })), space)),
  "a lost answer's edits wait for ever": (store) => spoil(store.out, "settle", (real, results, space) => real(results.filter((one: any) => one.result !== "duplicate"), space)),
  "queued in a transaction of its own": (store) => spoil(store, "set", async (real, kind, record, values) => {
    await real(kind, record, values);
    const made = (await aside(() => store.history(record))).at(-1)!;
    await aside(() => also(store, (tx) => leaveOutbox(tx, made.id)));
    await also(store, (tx) => tx.objectStore("outbox").add({ change: made.id })).catch(() => undefined);
  }),
  "said to be saved before it is": (store) => spoil(store, "set", async (real, ...given) => { void real(...given).catch(() => undefined); }),
  "nothing offered to a server from a backup": (store) => spoil(store.out, "offerAll", (_real, epoch) => store.meta.set("epoch", epoch)),
  "photo freed on send": (store) => spoil(store.media, "toSend", async (real, hash) => {
    const bytes = await real(hash);
    await also(store, (tx) => tx.objectStore("media").delete(hash));
    return bytes;
  }),
  "photo confirmed before the answer": (store) => spoil(store.media, "toSend", async (real, hash) => {
    const bytes = await real(hash);
    await store.media.confirm(hash);
    return bytes;
  }),
  "photo not queued": (store) => spoil(store.media, "put", async (real, ...given) => {
    const kept = await real(...given);
    await also(store, (tx) => tx.objectStore("uploads").delete(kept.hash));
    return kept;
  }),
  "photo let go unasked": (store) => spoil(store.media, "letGo", async (_real, hashes) => also(store, async (tx) => { for (const hash of hashes) await tx.objectStore("media").delete(hash); })),
};
