// A saved book comes back whole on another phone, merges, and a strange file is refused in words.
import "fake-indexeddb/auto";
import { readFileSync } from "node:fs";
import { strToU8, zipSync } from "fflate";
import { expect, it } from "vitest";
import { BadBook, readBook, writeBook } from "./book_file.ts";
import { openStore } from "./store.ts";

it("carries every change and every photo to another phone, and adds nothing twice", async () => {
  const [from, to] = [await openStore("book-from"), await openStore("book-to")];
  const id = await from.create("session", { title: "Barn" });
  await from.set("session", id, { title: "Big barn" });
  const { hash } = await from.putMedia(strToU8("picture").buffer as ArrayBuffer, "image/jpeg");
  const own = await to.create("session", { title: "Own" });

  const file = (await writeBook(from)).bytes;
  expect(await readBook(to, file.buffer)).toEqual({ changes: 2, media: 1 });
  expect((await to.get(id))?.values["title"]).toBe("Big barn");
  expect((await to.get(own))?.values["title"]).toBe("Own");
  expect((await to.getMedia(hash))?.bytes.byteLength).toBe(7);
  expect((await to.out.counts()).changes).toBe(3);
  expect(await readBook(to, file.buffer)).toEqual({ changes: 0, media: 0 });
});

it("carries one session and nothing of another, and adds nothing twice", async () => {
  const [from, to] = [await openStore("session-from"), await openStore("session-to")];
  const seller = await from.create("seller", { name: "Wendeline Ostrop" });
  const [one, other] = [await from.create("session", { title: "One", seller }), await from.create("session", { title: "Other" })];
  const piece = await from.create("piece", { title: "Seen twice" });
  const [here, there] = [await from.create("visit", { session: one, piece }), await from.create("visit", { session: other, piece })];
  const photos = [];
  for (const visit of [here, there]) {
    const { hash } = await from.putMedia(strToU8(`picture of ${visit}`).buffer as ArrayBuffer, "image/jpeg");
    photos.push(hash);
    await from.create("photo", { visit, file: { hash, type: "image/jpeg", bytes: 43, width: 1, height: 1 } });
  }
  const claim = await from.create("claim", { piece, visit: null, check: "a.b", place: "" });
  await from.create("answer", { visit: there, check: "a.b", place: "" });

  const { bytes, missing } = await writeBook(from, one);
  expect(missing).toBe(0);
  const took = await readBook(to, bytes.buffer);
  expect(took.media).toBe(1);
  expect((await Promise.all([seller, one, piece, here, claim].map((id) => to.get(id)))).every(Boolean)).toBe(true);
  expect([await to.get(other), await to.get(there), await to.byKind("answer")]).toEqual([undefined, undefined, []]);
  expect([await to.mediaState(photos[0]!), await to.mediaState(photos[1]!)]).toEqual(["here", "elsewhere"]);
  const before = await to.read((db) => Promise.all([db.getAll("records"), db.getAll("changes"), db.getAll("outbox"), db.getAllKeys("media")]));
  expect(await readBook(to, bytes.buffer)).toEqual({ changes: 0, media: 0 });
  expect(await to.read((db) => Promise.all([db.getAll("records"), db.getAll("changes"), db.getAll("outbox"), db.getAllKeys("media")]))).toEqual(before);
});

it("names a photo that was let go and cannot be fetched, and says that the file lacks it", async () => {
  const [from, to] = [await openStore("gone-from"), await openStore("gone-to")];
  const { hash } = await from.putMedia(strToU8("picture").buffer as ArrayBuffer, "image/jpeg");
  await from.create("photo", { visit: "a".repeat(32), file: { hash, type: "image/jpeg", bytes: 7, width: 1, height: 1 } });
  await from.media.confirm(hash);
  await from.media.letGo([hash]);
  for (const [told, found] of [["no_signal", "no_signal"], ["not_there", "lost"]] as const) {
    from.media.fetcher = async () => told;
    expect(await from.media.find(hash)).toBe(found);
  }
  const { bytes, missing } = await writeBook(from);
  expect(missing).toBe(1);
  expect(await readBook(to, bytes.buffer)).toEqual({ changes: 2, media: 0 });
});

it("carries a book too large for one breath of the packer", async () => {
  const [from, to] = [await openStore("large-from"), await openStore("large-to")];
  const words = "a lens with haze, ";
  for (let count = 0; count < 40; count += 1) await from.create("price_note", { note: `${count} ${words.repeat(500)}` });
  const file = (await writeBook(from)).bytes;
  expect(await readBook(to, file.buffer)).toEqual({ changes: 40, media: 0 });
  expect((await to.byKind("price_note")).length).toBe(40);
});

it("reads a book that the server wrote", async () => {
  const store = await openStore("from-server");
  const file = readFileSync(new URL("../../../tests/files/books/server_book.zip", import.meta.url));
  const bytes = new Uint8Array(file).buffer;
  expect(await readBook(store, bytes)).toEqual({ changes: 12, media: 1 });
  const [session] = await store.byKind("session");
  expect(session?.values["title"]).toBe("Barn on the hill");
  const [photo] = await store.byKind("photo");
  expect(await store.mediaState(photo?.values["file"].hash as string)).toBe("here");
  expect(await readBook(store, bytes)).toEqual({ changes: 0, media: 0 });
});

const book = (document: unknown, more: Record<string, Uint8Array> = {}) => zipSync({ "barnlight-export.json": strToU8(JSON.stringify(document)), ...more }).buffer as ArrayBuffer;

const [A, B] = ["a".repeat(32), "b".repeat(32)];
const change = (more: object) => ({ id: A, record: B, kind: "session", field: "title", value: "Barn", stamp: `${"0".repeat(15)}.000000.${A}`, base: null, settles: [], device: A, author: "Orla", schema: 1, ...more });
const holding = (more: object) => book({ format: "barnlight-export", version: 1, changes: [change(more)], media: [] });

it("takes a change from a clock years ahead, and goes on saving after it", async () => {
  const store = await openStore("years ahead");
  expect(await readBook(store, holding({ stamp: `253402300799999.999999.${A}` }))).toEqual({ changes: 1, media: 0 });
  for (const title of ["Mine", "Mine again"]) await store.set("session", B, { title });
  expect((await store.get(B))?.values["title"]).toBe("Mine again");
});

it.each([
  ["a stamp that leaves the clock nowhere to go", holding({ stamp: `999999999999999.999999.${A}` })],
  ["a change of no form that is known", holding({ schema: undefined })],
  ["not a zip", strToU8("GIF89a, surely").buffer as ArrayBuffer],
  ["a zip of something else", zipSync({ "holiday.txt": strToU8("sun") }).buffer as ArrayBuffer],
  ["another format", book({ format: "else", version: 1, changes: [], media: [] })],
  ["a newer version", book({ format: "barnlight-export", version: 2, changes: [], media: [] })],
  ["a change without a stamp", book({ format: "barnlight-export", version: 1, changes: [{ id: "a" }], media: [] })],
  ["a list of files that is none", book({ format: "barnlight-export", version: 1, changes: [], media: [null] })],
  ["a kind that is no name", holding({ kind: "__proto__" })],
  ["bytes that are not their hash", book({ format: "barnlight-export", version: 1, changes: [], media: [{ hash: "0".repeat(64), type: "image/jpeg", bytes: 3 }] }, { [`media/${"0".repeat(64)}.jpg`]: strToU8("abc") })],
])("refuses %s", async (name, bytes) => {
  const store = await openStore(`refuse ${name}`);
  await expect(readBook(store, bytes)).rejects.toBeInstanceOf(BadBook);
  expect(await store.read((db) => db.count("changes"))).toBe(0);
});
