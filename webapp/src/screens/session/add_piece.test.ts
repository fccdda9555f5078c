// Adding pieces on the real store: letters in turn, holders numbered (handbook section 2).
import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import { openStore } from "../../store/store.ts";
import { addPiece } from "./add_piece.ts";

it("gives each piece of a session its own letter", async () => {
  const store = await openStore("add-letters");
  const session = await store.create("session", { day: "2026-05-02" });
  const visits = [
    await addPiece(store, session, { kind: "camera", type: "folding_field" }),
    await addPiece(store, session, { kind: "lens", type: "in_shutter" }),
  ];
  const tags = await Promise.all(visits.map(async (id) => (await store.get(id))?.values["tag"]));
  expect(tags).toEqual(["A", "B"]);
});

it("numbers the holders of a set from one", async () => {
  const store = await openStore("add-holders");
  const session = await store.create("session", { day: "2026-05-02" });
  const visit = await store.get(await addPiece(store, session, { kind: "holders", type: "sheet", count: 3 }));
  const piece = await store.get(visit!.values["piece"]);
  expect(piece?.values["holders"]).toEqual({ count: 3, numbers: ["1", "2", "3"] });
});
