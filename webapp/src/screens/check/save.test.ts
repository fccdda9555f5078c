// What an answer leaves behind on the real store (handbook section 3; ids and fields: backend/barnlight/catalogue/records.json).
import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import { answerId, readingId } from "../../domain/ids.ts";
import { openStore } from "../../store/store.ts";
import { loadVisit } from "../visit/view.ts";
import { saveClaim, saveReading, saveResult, saveWords } from "./save.ts";

const SPOT = { visit: "0".repeat(31) + "1", check: "camera.start.leave", place: "" };

it("puts two answers to the same check at the same place into one record, the later on top", async () => {
  const store = await openStore("save-twice");
  await saveResult(store, SPOT, { outcome: "in_order" });
  await saveResult(store, SPOT, { outcome: "faulty", faults: ["refused"] });
  const answers = await store.byKind("answer");
  expect(answers.map((answer) => answer.id)).toEqual([answerId(SPOT.visit, SPOT.check, SPOT.place)]);
  expect(answers[0]?.values["result"]).toMatchObject({ outcome: "faulty", faults: ["refused"] });
  const history = await store.history(answers[0]!.id);
  expect(history.filter((change) => change.field === "result").map((change) => (change.value as { outcome: string }).outcome)).toEqual(["in_order", "faulty"]);
});

it("takes an answer back to still to look at, and keeps the words beside it", async () => {
  const store = await openStore("save-back");
  await saveWords(store, SPOT, { remark: "Owner watched.", note: "Gruff." });
  await saveResult(store, SPOT, { outcome: "worn" });
  await saveResult(store, SPOT, null);
  const answer = await store.get(answerId(SPOT.visit, SPOT.check, SPOT.place));
  expect(answer?.values).toMatchObject({ result: null, remark: "Owner watched.", note: "Gruff." });
});

it("keeps a claim apart: it is no answer (a claim never counts as seen)", async () => {
  const store = await openStore("save-claim");
  const piece = await store.create("piece", { kind: "camera" });
  const visit = await store.create("visit", { piece, session: null, tag: "A" });
  await saveClaim(store, { ...SPOT, visit }, piece, "in_order", { by: "seller", evidence: "words", words: "Works.", faults: [] }, "2026-05-02");
  const view = await loadVisit(store, visit);
  expect(view?.answers).toEqual([]);
  expect(view?.claims[0]?.values).toMatchObject({ asserted: { outcome: "in_order" }, evidence: "words", by: "seller", day: "2026-05-02" });
});

it("keeps a reading as it was typed, in its own unit", async () => {
  const store = await openStore("save-reading");
  await saveReading(store, SPOT, "depth", { text: "0.197", unit: "in", instrument: { kind: "depth_gauge", resolution_mm: 0.01 } });
  const reading = await store.get(readingId(SPOT.visit, SPOT.check, SPOT.place, "depth"));
  expect(reading?.values["typed"]).toEqual({ text: "0.197", unit: "in" });
});
