// Many notes saved at once: all there, one way back, and what the lines say goes before what is said for all.
import "fake-indexeddb/auto";
import { afterEach, expect, it } from "vitest";
import { parseLines } from "../../domain/price_text.ts";
import { openStore, type Store } from "../../store/store.ts";
import { completed, saveNotes } from "./save_notes.ts";

const open: Store[] = [];
afterEach(() => { for (const store of open.splice(0)) store.close(); });

it("saves more than go into one transaction, and takes all of them off again at once", async () => {
  const store = await openStore("many notes", () => 1_780_000_000_000);
  open.push(store);
  const lines = parseLines(Array.from({ length: 230 }, (_, at) => `Lens ${at} mm, ${at + 10} EUR`).join("\n"), "2026-05-03", "EUR");
  const told: number[] = [];
  const undo = await saveNotes(store, lines.map(({ note }) => note!), (count) => told.push(count));
  expect([(await store.byKind("price_note")).length, told]).toEqual([230, [100, 200, 230]]);
  await undo();
  expect(await store.byKind("price_note")).toEqual([]);
});

it("lets the line go before what is said for all", () => {
  const [asked, silent] = parseLines("Lens 20 EUR asked\nLens 20 EUR", "2026-05-03", "EUR").map(({ note }) => completed(note!, { group: "Lenses", sold: true, venue_kind: "fair" }));
  expect([asked!.sold, silent!.sold, silent!.group, silent!.venue_kind]).toEqual([false, true, "Lenses", "fair"]);
});
