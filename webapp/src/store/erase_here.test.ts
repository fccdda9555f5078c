// Erasing on a phone without a server: the same rule as the server's (sync/README.md, Erasing), checked record by record.
import "fake-indexeddb/auto";
import { afterEach, expect, it } from "vitest";
import { eraseHere, reachOf } from "./erase_here.ts";
import { openStore, type Store } from "./store.ts";

let turn = 0;
const open: Store[] = [];
const fresh = async (): Promise<Store> => {
  open.push(await openStore(`erase-${turn += 1}`));
  return open.at(-1)!;
};
afterEach(() => { for (const store of open.splice(0)) store.close(); });

const bytes = (words: string): ArrayBuffer => new TextEncoder().encode(words).buffer as ArrayBuffer;

async function photoOf(store: Store, visit: string, words: string): Promise<string> {
  const { hash } = await store.putMedia(bytes(words), "image/jpeg");
  await store.create("photo", { visit, file: { hash, type: "image/jpeg", bytes: words.length, width: 1, height: 1 } });
  return hash;
}

it("takes a sale with what belongs to it, and leaves a piece that was met elsewhere, and a photo that another names", async () => {
  const store = await fresh();
  const [gone, stays] = [await store.create("session", { title: "gone" }), await store.create("session", { title: "stays" })];
  const [own, shared] = [await store.create("piece", { title: "own" }), await store.create("piece", { title: "shared" })];
  const visits = { own: await store.create("visit", { session: gone, piece: own }), here: await store.create("visit", { session: gone, piece: shared }), there: await store.create("visit", { session: stays, piece: shared }) };
  const answer = await store.create("answer", { visit: visits.own, check: "a.b", place: "" });
  const alone = await photoOf(store, visits.own, "alone");
  const twice = await photoOf(store, visits.here, "twice");
  await photoOf(store, visits.there, "twice");
  const reach = await reachOf(store, "session", gone);
  expect([...reach.ids.keys()].filter((id) => [gone, own, visits.own, visits.here, answer].includes(id))).toHaveLength(5);
  expect([stays, shared, visits.there].some((id) => reach.ids.has(id))).toBe(false);
  expect(reach.files.map((file) => file.hash)).toEqual([alone]);

  await eraseHere(store, reach);
  for (const id of reach.ids.keys()) expect([await store.get(id), await store.history(id)]).toEqual([undefined, []]);
  expect([await store.mediaState(alone), await store.mediaState(twice)]).toEqual(["elsewhere", "here"]);
  expect(await store.media.waiting()).toEqual([twice]);
  expect((await store.get(shared))?.values["title"]).toBe("shared");
});

it("takes what was typed at a piece that goes, and leaves it at others", async () => {
  const store = await fresh();
  const session = await store.create("session", { title: "gone" });
  const [own, other] = [await store.create("piece", { title: "own" }), await store.create("piece", { title: "other" })];
  await store.create("visit", { session, piece: own });
  await store.meta.set("thing_drafts", { [own]: "their bag", [other]: "shims" });
  await eraseHere(store, await reachOf(store, "session", session));
  expect(await store.meta.get("thing_drafts")).toEqual({ [other]: "shims" });
});

it("takes a seller with all entries of the same person and their dealings; their sale stays without a seller", async () => {
  const store = await fresh();
  const first = await store.create("seller", { name: "Wendeline Ostrop" });
  const second = await store.create("seller", { name: "W. Ostrop", same_as: first });
  const sale = await store.create("session", { title: "Attic", seller: second });
  const dealing = await store.create("dealing", { seller: first, day: "2026-05-02" });
  const reach = await reachOf(store, "seller", first);
  expect([...reach.ids.keys()].sort()).toEqual([first, second, dealing].sort());
  expect(reach.loose.map((one) => one.id)).toEqual([sale]);
  await eraseHere(store, reach);
  expect((await store.get(sale))?.values).toEqual({ title: "Attic", seller: null });
  expect(await store.byKind("seller")).toEqual([]);
});

it("takes what a newer app hung on it, by whatever field", async () => {
  const store = await fresh();
  const seller = await store.create("seller", { name: "Wendeline Ostrop" });
  const later = await store.create("grudge", { against: seller, words: "late" });
  const further = await store.create("grudge_reply", { of: later });
  const other = await store.create("grudge", { against: "a".repeat(32) });
  const reach = await reachOf(store, "seller", seller);
  expect([...reach.ids.keys()].sort()).toEqual([seller, later, further].sort());
  await eraseHere(store, reach);
  expect([await store.get(later), (await store.get(other))?.kind]).toEqual([undefined, "grudge"]);
});

it("forgets that it held what it did not understand, once that is gone", async () => {
  const store = await fresh();
  const session = await store.create("session", { title: "gone" });
  const [title] = await store.history(session);
  await store.out.takeFile([{ ...title!, id: "a".repeat(32), field: "note", schema: 7 }]);
  expect(await store.meta.get("newer")).toEqual(["a".repeat(32)]);
  await eraseHere(store, await reachOf(store, "session", session));
  expect(await store.meta.get("newer")).toEqual([]);
});

it("takes the copies of reports about what went, and of reports that went because they showed it", async () => {
  const store = await fresh();
  const [gone, stays] = [await store.create("session", { title: "gone" }), await store.create("session", { title: "stays" })];
  const copy = (about: string, publication: string) => ({ about, publication, version: 1, title: "Report", files: [{ name: "r.html", type: "text/html", bytes: bytes("words") }] });
  const [own, showing, other] = [copy(gone, "1".repeat(32)), copy(stays, "2".repeat(32)), copy(stays, "3".repeat(32))];
  await store.meta.set("report_copies", [own, showing, other]);
  await eraseHere(store, await reachOf(store, "session", gone));
  expect((await store.meta.get("report_copies"))!.map((one) => one.publication)).toEqual([showing.publication, other.publication]);

  const notice = { id: "e".repeat(32), space: (await store.meta.get("space"))!, kind: "erasure", record: "f".repeat(32), field: "records", value: [showing.publication], stamp: `000000000000001.000000.${"e".repeat(32)}`, base: null, settles: [], device: "e".repeat(32), author: "server", schema: 1, number: 1 };
  await store.out.takePage({ epoch: "1", next: 1, changes: [notice] });
  expect((await store.meta.get("report_copies"))!.map((one) => one.publication)).toEqual([other.publication]);
});
