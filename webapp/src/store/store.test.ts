// The promises of the store: all of an edit or nothing, still there after a kill, undo as an edit, changes merged in any order.
import "fake-indexeddb/auto";
import { IDBObjectStore } from "fake-indexeddb";
import fc from "fast-check";
import { afterEach, expect, it, vi } from "vitest";
import type { Change } from "./shape.ts";
import { openStore, StoreError, type Store } from "./store.ts";

let turn = 0;
const open: Store[] = [];
async function fresh(name = `test-${turn += 1}`, nowMs = () => 1_780_000_000_000): Promise<Store> {
  const store = await openStore(name, nowMs);
  open.push(store);
  return store;
}
afterEach(() => { vi.restoreAllMocks(); for (const store of open.splice(0)) store.close(); });

const everything = (store: Store) => store.read(async (db) => ({
  records: await db.getAll("records"), changes: await db.getAll("changes"), outbox: await db.count("outbox"), clock: await db.get("meta", "clock"),
}));

it("keeps fields, history and outbox of one edit together, and leaves unchanged values alone", async () => {
  const store = await fresh();
  const id = await store.create("session", { title: "Barn", day: "2026-05-02" });
  await store.set("session", id, { title: "Barn", day: "2026-05-03" });
  expect((await store.get(id))?.values).toEqual({ title: "Barn", day: "2026-05-03" });
  expect((await store.history(id)).map((change) => [change.field, change.value])).toEqual([["title", "Barn"], ["day", "2026-05-02"], ["day", "2026-05-03"]]);
  expect((await store.out.counts()).changes).toBe(3);
});

it("makes a field from what it holds by then: two edits of one list at once are both in it", async () => {
  const store = await fresh();
  const piece = await store.create("piece", { kind: "lens", title: "Lens" });
  const add = (item: string) => store.change<string[]>("piece", piece, "comes_with", (held) => [...(held ?? []), item]);
  await Promise.all([add("cap"), add("flange"), add("shims")]);
  expect((await store.get(piece))?.values["comes_with"]).toEqual(["cap", "flange", "shims"]);
  await store.undo();
  expect((await store.get(piece))?.values["comes_with"]).toEqual(["cap", "flange"]);
});

it("keeps many records in one transaction: all of them or none", async () => {
  const store = await fresh();
  const prices = (count: number) => Array.from({ length: count }, (_, at) => ({ kind: "price_note", id: String(at).padStart(32, "0"), values: { what: `Lens ${at}` } }));
  const told: number[] = [];
  store.subscribe((touched) => told.push(touched.length));
  await store.setAll(prices(3));
  expect([(await store.byKind("price_note")).length, told]).toEqual([3, [3]]);
  const before = await everything(store);
  const put = IDBObjectStore.prototype.put;
  let puts = 0;
  vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(function (this: IDBObjectStore, ...values: Parameters<typeof put>) {
    if ((puts += 1) === 5) throw new DOMException("full", "QuotaExceededError");
    return put.apply(this, values);
  });
  await expect(store.setAll(prices(9).slice(3))).rejects.toThrow(StoreError);
  expect(await everything(store)).toEqual(before);
});

it("finds children by the parent fields of the catalogue, and follows a record that moves", async () => {
  const store = await fresh();
  const [first, second] = ["a".repeat(32), "b".repeat(32)];
  const photo = await store.create("photo", { visit: first });
  expect((await store.children(first, "photo")).map((one) => one.id)).toEqual([photo]);
  await store.set("photo", photo, { visit: second });
  expect(await store.children(first)).toEqual([]);
  expect((await store.children(second)).map((one) => one.id)).toEqual([photo]);
});

it("has all of an edit or nothing when the n-th write fails, for every n, and works on afterwards", async () => {
  const real = { put: IDBObjectStore.prototype.put, add: IDBObjectStore.prototype.add };
  let writes = 0;
  for (let failing = 1; ; failing += 1) {
    const store = await fresh();
    const id = await store.create("piece", { title: "before" });
    const before = await everything(store);
    writes = 0;
    for (const word of ["put", "add"] as const) {
      vi.spyOn(IDBObjectStore.prototype, word).mockImplementation(function (this: IDBObjectStore, ...given: any[]) {
        writes += 1;
        if (writes === failing) throw new DOMException("full", "QuotaExceededError");
        return (real[word] as any).apply(this, given);
      });
    }
    const outcome = await store.set("piece", id, { title: "after", note: "n" }).then(() => "kept", (error: unknown) => error);
    vi.restoreAllMocks();
    if (outcome === "kept") break;
    expect(outcome).toBeInstanceOf(StoreError);
    expect((outcome as StoreError).code).toBe("quota");
    expect(await everything(store)).toEqual(before);
    await store.set("piece", id, { title: "after all" });
    expect((await store.get(id))?.values["title"]).toBe("after all");
  }
  expect(writes).toBeGreaterThan(5);
});

it("has every saved edit after being killed and opened again, with a clock that only rises", async () => {
  const name = "killed";
  const first = await fresh(name);
  const id = await first.create("session", { title: "one" });
  const stampBefore = (await first.history(id))[0]!.stamp;
  first.database.close();
  const again = await fresh(name, () => 1_000);
  expect((await again.get(id))?.values["title"]).toBe("one");
  await again.set("session", id, { title: "two" });
  const stamps = (await again.history(id)).map((change) => change.stamp);
  expect(stamps[0]).toBe(stampBefore);
  expect(stamps[1]! > stampBefore).toBe(true);
});

it("undoes by a new edit: a changed field goes back, a new record is taken off", async () => {
  const store = await fresh();
  const id = await store.create("piece", { title: "one" });
  await store.set("piece", id, { title: "two" });
  await store.undo();
  expect((await store.get(id))?.values["title"]).toBe("one");
  await store.undo();
  expect(await store.byKind("piece")).toEqual([]);
  expect(await store.undo()).toBeNull();
  expect((await store.history(id)).length).toBe(4);
});

it("shows two versions made without knowing of each other until a person picks one", async () => {
  const store = await fresh();
  const id = await store.create("piece", { title: "mine" });
  const mine = (await store.history(id))[0]!;
  const theirs: Change = { ...mine, id: "f".repeat(32), value: "theirs", device: "e".repeat(32), stamp: mine.stamp.replace(/^\d{15}/, "001780000000001"), base: null };
  await store.out.takePage({ epoch: "e", next: 7, changes: [{ ...theirs, number: 7 }] });
  expect((await store.versions(id, "title")).map((change) => change.value)).toEqual(["theirs", "mine"]);
  await store.pick(id, "title", mine);
  expect((await store.versions(id, "title")).map((change) => change.value)).toEqual(["mine"]);
  expect((await store.get(id))?.values["title"]).toBe("mine");
  expect((await store.history(id)).length).toBe(3);
});

it("holds the same records whatever the order and however often changes arrive", async () => {
  const source = await fresh();
  const id = await source.create("piece", { title: "1", note: "a" });
  await source.set("piece", id, { title: "2" });
  await source.set("piece", id, { note: "b", deleted: true });
  const changes = await source.history(id);
  const want = (await everything(source)).records;
  await fc.assert(fc.asyncProperty(fc.shuffledSubarray([...changes, ...changes], { minLength: 2 * changes.length }), async (shuffled) => {
    const store = await fresh();
    for (const change of shuffled) await store.out.takePage({ epoch: "e", next: 1, changes: [{ ...change, number: 1 }] });
    expect((await everything(store)).records).toEqual(want);
  }), { numRuns: 25, seed: 25 });
});

it("keeps what the server refused, with its words, and empties the outbox of the rest", async () => {
  const store = await fresh();
  const id = await store.create("piece", { title: "a", note: "b" });
  const [first, second] = await store.history(id);
  await store.out.settle([
    { id: first!.id, result: "ok", number: 1, stamp: first!.stamp.replace(/^\d{15}/, "001779999999999") },
    { id: second!.id, result: "refused", reason: "bad_value", message: "Too long." },
  ]);
  expect(await store.out.counts()).toEqual({ changes: 0, media: 0, refused: 1 });
  expect((await store.out.refusals())[0]).toMatchObject({ id: second!.id, message: "Too long." });
  expect((await store.get(id))?.fields["title"]?.stamp.startsWith("001779999999999")).toBe(true);
  expect((await store.get(id))?.values["note"]).toBe("b");
});

it("lets another change win when its own was stamped anew below it", async () => {
  const store = await fresh();
  const id = await store.create("piece", { title: "mine, from a clock far ahead" });
  const mine = (await store.history(id))[0]!;
  const theirs: Change = { ...mine, id: "f".repeat(32), value: "theirs", device: "e".repeat(32), stamp: mine.stamp.replace(/^\d{15}/, "001779999999000") };
  await store.out.takePage({ epoch: "e", next: 2, changes: [{ ...theirs, number: 2 }] });
  expect((await store.get(id))?.values["title"]).toBe("mine, from a clock far ahead");
  await store.out.settle([{ id: mine.id, result: "duplicate", number: 1, stamp: mine.stamp.replace(/^\d{15}/, "001779999998000") }]);
  expect((await store.get(id))?.values["title"]).toBe("theirs");
});

it("keeps bytes by their hash until the server confirms, and refuses foreign bytes", async () => {
  const store = await fresh();
  const bytes = new TextEncoder().encode("abc").buffer as ArrayBuffer;
  const { hash } = await store.putMedia(bytes, "image/jpeg");
  // FIPS 180-4 example: SHA-256 of "abc".
  expect(hash).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  expect([await store.mediaState(hash), await store.media.waiting()]).toEqual(["here", [hash]]);
  await store.media.confirm(hash);
  expect([await store.mediaState(hash), await store.media.waiting()]).toEqual(["confirmed", []]);
  store.media.fetcher = async () => ({ bytes, type: "image/jpeg" });
  expect(await store.getMedia("0".repeat(64))).toBeNull();
});

it("takes changes whose kind or field is called like something every object has", async () => {
  const store = await fresh();
  const own = (await store.history(await store.create("piece", { title: "a" })))[0]!;
  const strange: Change = { ...own, id: "c".repeat(32), record: "d".repeat(32), kind: "constructor", field: "constructor", value: "v", base: null };
  await store.out.takePage({ epoch: "e", next: 1, changes: [{ ...strange, number: 1 }] });
  expect((await store.get(strange.record))?.values["constructor"]).toBe("v");
});

it("keeps and passes on what a newer app wrote, shows what it understands, and merges the rest once it is newer itself", async () => {
  const name = "newer";
  const store = await fresh(name);
  const id = await store.create("piece", { title: "mine" });
  const mine = (await store.history(id))[0]!;
  const theirs: Change = { ...mine, id: "f".repeat(32), value: { words: "later" }, stamp: mine.stamp.replace(/^\d{15}/, "001780000000001"), schema: 2 };
  await store.out.takePage({ epoch: "e", next: 7, changes: [{ ...theirs, number: 7 }] });
  expect([(await store.get(id))?.values["title"], await store.meta.get("newer"), (await store.history(id)).length]).toEqual(["mine", [theirs.id], 2]);
  await store.out.offerAll("e2");
  expect((await store.out.batch(9)).map((change) => [change.id, change.schema])).toContainEqual([theirs.id, 2]);
  // As the app would find it once it understands schema 2.
  await store.write((tx) => tx.objectStore("changes").put({ ...theirs, value: "later", schema: 1 }));
  store.database.close();
  const again = await fresh(name);
  expect([(await again.get(id))?.values["title"], await again.meta.get("newer"), (await again.history(id)).length]).toEqual(["later", [], 2]);
});

it("says so when a newer app has used the book", async () => {
  const store = await fresh("opened by a newer one");
  store.database.close();
  const newer = indexedDB.open("opened by a newer one", store.database.version + 1);
  await new Promise((done) => { newer.onsuccess = done; });
  newer.result.close();
  await expect(openStore("opened by a newer one")).rejects.toMatchObject({ code: "newer" });
});

it("counts words that were saved while they were typed as one step to undo", async () => {
  let nowMs = 1_780_000_000_000;
  const store = await fresh(undefined, () => nowMs);
  const id = await store.create("piece", { title: "before" });
  for (const title of ["b", "be", "beech"]) {
    nowMs += 900;
    await store.set("piece", id, { title });
  }
  await store.undo();
  expect((await store.get(id))?.values["title"]).toBe("before");
});
