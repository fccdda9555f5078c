// Starting a session on the real store: nothing is mandatory, a typed seller goes into the book (issue point 4; handbook section 8).
import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import { openStore } from "../../store/store.ts";
import { isFromAfar, startSession } from "./start_session.ts";

const NOTHING = { venueKind: "", seller: null, sellerName: "", place: "", day: "2026-05-02", asking: null, remote: false };

it("starts with nothing filled in", async () => {
  const store = await openStore("start-empty");
  const id = await startSession(store, NOTHING);
  const session = await store.get(id);
  expect(session?.values).toMatchObject({ seller: null, day: "2026-05-02", remote: false });
  expect(await store.byKind("seller")).toEqual([]);
});

it("puts a typed seller into the book", async () => {
  const store = await openStore("start-typed");
  const id = await startSession(store, { ...NOTHING, venueKind: "fair", sellerName: " Ines Quell ", place: "Hall 2" });
  const [seller] = await store.byKind("seller");
  expect(seller?.values).toMatchObject({ name: "Ines Quell", venue_kind: "fair", place: "Hall 2" });
  expect((await store.get(id))?.values["seller"]).toBe(seller?.id);
});

it("knows which venues are from afar", () => {
  expect(["online_shop", "estate_sale"].map(isFromAfar)).toEqual([true, false]);
});
