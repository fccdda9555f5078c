// What a round makes of odd answers and of clocks that ran ahead, beside the random runs of machine.test.ts.
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { parse } from "../domain/clock.ts";
import { openStore, type Store } from "../store/store.ts";
import { exchange } from "./round.ts";
import { FakeServer } from "./testing/fake_server.ts";

const [NOW_MS, YEAR_MS] = [1_780_000_000_000, 365 * 86_400_000];
const BOOK = "b".repeat(32);
let server: FakeServer;
let turn = 0;
const open: Store[] = [];

beforeEach(() => {
  server = new FakeServer();
  server.nowMs = () => NOW_MS;
  vi.stubGlobal("fetch", server.fetch);
});
afterEach(() => {
  vi.unstubAllGlobals();
  for (const store of open.splice(0)) store.close();
});

async function phone(clock: { ms: number }): Promise<Store> {
  const store = await openStore(`round-${turn += 1}`, () => clock.ms);
  open.push(store);
  return store;
}

const round = (store: Store) => exchange(store, async () => undefined);
const answers = (make: () => Response) => vi.stubGlobal("fetch", async () => make());

it("keeps cause before effect when a phone with a clock a year ahead offers more than one batch", async () => {
  const store = await phone({ ms: NOW_MS + YEAR_MS });
  const id = await store.create("piece", { title: "0" });
  for (let count = 1; count <= 260; count += 1) await store.set("piece", id, { title: String(count) });
  await store.out.join(BOOK, "Book", server.epoch);
  await round(store);
  expect(server.changes.map((change) => change.value)).toEqual(Array.from({ length: 261 }, (_, count) => String(count)));
  expect((await store.get(id))?.values["title"]).toBe("260");
}, 60_000);

it("lowers a clock that ran ahead once nothing waits, and what is done next still wins", async () => {
  const clock = { ms: NOW_MS + YEAR_MS };
  const store = await phone(clock);
  await store.out.join(BOOK, "Book", server.epoch);
  const id = await store.create("piece", { title: "ahead" });
  clock.ms = NOW_MS;
  await store.set("piece", id, { title: "still ahead" });
  expect(parse((await store.meta.get("clock"))!)[0]).toBe(NOW_MS + YEAR_MS);
  await round(store);
  expect(parse((await store.meta.get("clock"))!)[0]).toBe(NOW_MS);
  await store.set("piece", id, { title: "now" });
  expect((await store.get(id))?.values["title"]).toBe("now");
  expect(parse((await store.history(id)).at(-1)!.stamp)[0]).toBe(NOW_MS);
});

it("takes no page that is not the server's for its word: nothing leaves the queue, no photo counts as sent", async () => {
  const store = await phone({ ms: NOW_MS });
  await store.out.join(BOOK, "Book", server.epoch);
  await store.putMedia(new Uint8Array([1]).buffer, "image/jpeg");
  answers(() => new Response("<h1>Sign in</h1>", { headers: { "Content-Type": "text/html" } }));
  await expect(round(store)).rejects.toMatchObject({ status: 0, code: "not_the_server" });
  await store.create("piece", { title: "a" });
  await expect(round(store)).rejects.toMatchObject({ code: "not_the_server" });
  const real = server.fetch;
  vi.stubGlobal("fetch", async (path: string, init?: RequestInit) => (init?.method === "PUT" ? new Response("{}", { headers: { "Content-Type": "application/json" } }) : real(path, init)));
  await expect(round(store)).rejects.toMatchObject({ code: "stuck" });
  expect(await store.out.counts()).toEqual({ changes: 0, media: 1, refused: 0 });
});

it("hears half an answer as none", async () => {
  const store = await phone({ ms: NOW_MS });
  await store.out.join(BOOK, "Book", server.epoch);
  await store.create("piece", { title: "a" });
  answers(() => new Response('{"epoch": "fir', { headers: { "Content-Type": "application/json" } }));
  await expect(round(store)).rejects.toMatchObject({ status: 0, code: "unreachable" });
  expect((await store.out.counts()).changes).toBe(1);
});

it("ends a round in which the server gives no word on what was sent", async () => {
  const store = await phone({ ms: NOW_MS });
  await store.out.join(BOOK, "Book", server.epoch);
  await store.create("piece", { title: "a" });
  answers(() => new Response(JSON.stringify({ epoch: server.epoch, results: [] }), { headers: { "Content-Type": "application/json" } }));
  await expect(round(store)).rejects.toMatchObject({ code: "stuck" });
  expect((await store.out.counts()).changes).toBe(1);
});

it("packs a long body and leaves a short one as it is", async () => {
  const store = await phone({ ms: NOW_MS });
  await store.out.join(BOOK, "Book", server.epoch);
  const packed: (string | null)[] = [];
  vi.stubGlobal("fetch", async (path: string, init?: RequestInit) => {
    if (init?.method === "POST") packed.push(new Headers(init.headers).get("Content-Encoding"));
    return server.fetch(path, init);
  });
  const id = await store.create("piece", { title: "a" });
  await round(store);
  await store.set("piece", id, { title: "b", note: "c".repeat(2000) });
  await round(store);
  expect(packed).toEqual([null, "gzip"]);
  expect(server.changes.map((change) => change.field)).toEqual(["title", "title", "note"]);
});

it("shows no refusal any longer of an edit that another book took", async () => {
  const store = await phone({ ms: NOW_MS });
  await store.out.join(BOOK, "Book", server.epoch);
  server.refuses = () => "Not here.";
  await store.create("piece", { title: "a" });
  await round(store);
  expect(await store.out.counts()).toMatchObject({ changes: 0, refused: 1 });
  server.refuses = () => null;
  await store.out.join("c".repeat(32), "Other book", server.epoch);
  await round(store);
  expect(await store.out.counts()).toMatchObject({ changes: 0, refused: 0 });
});
