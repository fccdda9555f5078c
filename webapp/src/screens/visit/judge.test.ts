// From records of the real store to what a screen shows, over the real catalogue (verdict rules: handbook section 3).
import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import { loadCatalogue } from "../../domain/catalogue.ts";
import { places } from "../../domain/checks.ts";
import { openStore, type Store } from "../../store/store.ts";
import { saveResult } from "../check/save.ts";
import { addPiece } from "../session/add_piece.ts";
import { checkState, judge } from "./judge.ts";
import { loadVisit, plain } from "./view.ts";

async function judged(store: Store, visit: string) {
  const view = (await loadVisit(store, visit))!;
  return { view, piece: plain(view.piece), ...judge(view, await loadCatalogue()) };
}

it("shows an untouched piece as not proven, with a next look", async () => {
  const store = await openStore("judge-fresh");
  const { verdict, line, short } = await judged(store, await addPiece(store, await store.create("session", {}), { kind: "camera", type: "press" }));
  expect(verdict.verdict).toBe("not_proven");
  expect(line.next).not.toBeNull();
  expect(short.done).toBe(0);
});

it("gives the gravest outcome of a check's places and counts the answered ones", async () => {
  const store = await openStore("judge-places");
  const visit = await addPiece(store, await store.create("session", {}), { kind: "holders", type: "sheet", count: 2 });
  const before = await judged(store, visit);
  const check = before.checks.find((one) => one.axes.includes("side"))!;
  const [first, second] = places(check, before.piece);
  await saveResult(store, { visit, check: check.id, place: first! }, { outcome: "in_order" });
  await saveResult(store, { visit, check: check.id, place: second! }, { outcome: "faulty", faults: [check.faults[0]!.id] });
  const after = await judged(store, visit);
  expect(checkState(check, after.piece, after.resultAt)).toEqual({ outcome: "faulty", done: 2, of: 4 });
});

it("gives nothing for a visit taken off", async () => {
  const store = await openStore("judge-off");
  const visit = await addPiece(store, await store.create("session", {}), { kind: "other", type: null });
  await store.remove("visit", visit);
  expect(await loadVisit(store, visit)).toBeNull();
});
