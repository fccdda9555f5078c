// A take is kept with its sound or not at all, whatever write fails; what was said around the firings is not kept.
import "fake-indexeddb/auto";
import { IDBObjectStore } from "fake-indexeddb";
import { afterEach, expect, it, vi } from "vitest";
import { parseWav } from "../../domain/wav.ts";
import { openStore, type Store, StoreError } from "../../store/store.ts";
import { type Heard, keepTake } from "./keep_take.ts";

const firing = (open_s: number) => ({ open_s, close_s: open_s + 0.02, open_time_s: 0.02, low_s: 0.0199, high_s: 0.0201, verdict: "clear", reason: null, other_s: null });
// The engine has tests of its own; here any sound holds two firings.
vi.mock("./measure.ts", () => ({ measureSound: () => Promise.resolve({ firings: [firing(1), firing(1.5)], verdict: "clear", reason: null, open_time_s: 0.02 }) }));
afterEach(() => { vi.restoreAllMocks(); });

const VISIT = "a".repeat(32);
const RATE_HZ = 8000;
const heard: Heard = { samples: new Float32Array(3 * RATE_HZ).fill(0.1), rateHz: RATE_HZ, origin: "microphone", lostFrames: 0, processed: false, settings: {} };
const meant = { marked: { text: "1/50", seconds: 0.02 }, cold: true, ordinal: 1, conditions: { stop: null, attitude: null, since_last_s: null, celsius: null } };

const everything = (store: Store) => store.read(async (db) => ({
  media: await db.getAllKeys("media"), uploads: await db.getAllKeys("uploads"), outbox: await db.count("outbox"), records: await db.getAll("records"), clock: await db.get("meta", "clock"),
}));

it("keeps sound, recording and a take a firing in one go: the n-th write failing, for every n, leaves nothing of it", async () => {
  const real = { put: IDBObjectStore.prototype.put, add: IDBObjectStore.prototype.add };
  const store = await openStore("take", () => 1_780_000_000_000);
  const before = await everything(store);
  let writes = 0;
  for (let failing = 1; ; failing += 1) {
    writes = 0;
    for (const word of ["put", "add"] as const) {
      vi.spyOn(IDBObjectStore.prototype, word).mockImplementation(function (this: IDBObjectStore, ...given: any[]) {
        writes += 1;
        if (writes === failing) throw new DOMException("full", "QuotaExceededError");
        return (real[word] as any).apply(this, given);
      });
    }
    const outcome = await keepTake(store, VISIT, heard, meant).then((kept) => kept, (error: unknown) => error);
    vi.restoreAllMocks();
    if (!(outcome instanceof StoreError)) break;
    expect(await everything(store)).toEqual(before);
  }
  expect(writes).toBeGreaterThan(20);
  const takes = await store.children(VISIT, "take");
  const [recording] = await store.children(VISIT, "recording");
  expect(takes.map(({ values }) => values["intent"].cold).filter(Boolean).length).toBe(1);
  expect(takes.length).toBe(2);
  expect(new Set(takes.map(({ values }) => values["recording"]))).toEqual(new Set([recording!.id]));
  expect((await store.media.waiting())).toEqual([recording!.values["file"].hash]);
  const file = await store.getMedia(recording!.values["file"].hash);
  // 0.6 s either side of 1 s to 1.52 s.
  expect(parseWav(file!.bytes).samples.length / RATE_HZ).toBeCloseTo(1.72, 3);
  store.close();
});

it("keeps nothing where the firing is not worth it", async () => {
  const store = await openStore("unwanted", () => 1_780_000_000_000);
  const before = await everything(store);
  expect(await keepTake(store, VISIT, heard, meant, () => false)).toBeNull();
  expect(await everything(store)).toEqual(before);
  store.close();
});
