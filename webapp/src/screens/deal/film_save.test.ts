// A film test on the real store: the fault it showed goes to its check in a look of its own, and all of it goes back together.
import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import type { Check } from "../../domain/catalogue.ts";
import { answerId } from "../../domain/ids.ts";
import { openStore } from "../../store/store.ts";
import { kept, loadVisit } from "../visit/view.ts";
import { type FilmTest, placeOf, saveFilmTest } from "./film_save.ts";

const SIDES = { id: "holders.side.leak", axes: ["holder", "side"], faults: [{ id: "slide" }] } as unknown as Check;
const CORNERS = { id: "camera.corner", axes: ["corner"], faults: [] } as unknown as Check;
const WHOLE = { id: "lens.glass.haze", axes: [], faults: [] } as unknown as Check;
const TEST: FilmTest = { day: "2026-06-01", holder: "3", side: "a", speed: { text: "1/50", seconds: 0.02 }, stop: "f/16", found: "Streak", check: SIDES, fault: "slide" };

async function bought(name: string) {
  const store = await openStore(name);
  const session = await store.create("session", { day: "2026-05-02" });
  const piece = await store.create("piece", { kind: "holders" });
  const visit = await store.create("visit", { session, piece, occasion: "sale", tag: "A" });
  return { store, piece, session, view: (await loadVisit(store, visit))! };
}

it("knows the place as far as the check asks for it and a film can say", () => {
  expect([placeOf(SIDES, TEST), placeOf(SIDES, { ...TEST, side: "" }), placeOf(CORNERS, TEST), placeOf(WHOLE, TEST)]).toEqual(["holder=3;side=a", "", "", ""]);
});

it("puts the fault at its check in a visit of its own, and takes all off again", async () => {
  const { store, piece, session, view } = await bought("film-fault");
  const back = await saveFilmTest(store, view, TEST);
  const visits = await store.children(piece, "visit");
  const made = visits.find(({ values }) => values["occasion"] === "film_test")!;
  expect(made.values).toMatchObject({ session, piece, tag: "B" });
  const answer = await store.get(answerId(made.id, SIDES.id, "holder=3;side=a"));
  expect(answer?.values).toMatchObject({ check: SIDES.id, result: { outcome: "faulty", faults: ["slide"] }, remark: "Streak" });
  const [film] = await store.children(piece, "film_test");
  expect(film?.values).toMatchObject({ day: "2026-06-01", setup: { holder: "3", side: "a", speed: { text: "1/50", seconds: 0.02 }, stop: "f/16" }, check: SIDES.id, found: "Streak" });
  await back();
  expect([...(await store.children(piece, "film_test")), ...(await store.children(made.id))].filter(kept)).toEqual([]);
  expect((await store.children(piece, "visit")).filter(kept)).toHaveLength(1);
});

it("keeps a film that speaks of no check without a visit", async () => {
  const { store, piece, view } = await bought("film-fine");
  await saveFilmTest(store, view, { ...TEST, check: null, fault: null, holder: "", side: "", speed: null, stop: "" });
  expect(await store.children(piece, "visit")).toHaveLength(1);
  expect((await store.children(piece, "film_test"))[0]?.values).toMatchObject({ check: null, setup: { speed: null, stop: null } });
});
