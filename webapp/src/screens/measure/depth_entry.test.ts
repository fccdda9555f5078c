// The thread of typing: next open point, doubts at once, places in words.
import { expect, test } from "vitest";
import { loadCatalogue } from "../../domain/catalogue.ts";
import { mmOf, nextOpen, pointWords, weigh } from "./depth_entry.ts";

const order = ["a", "b", "c"];

test("the next point is the next open one, then what was left out", () => {
  expect(nextOpen(order, new Map(), null)).toBe("a");
  expect(nextOpen(order, new Map([["a", 1]]), "a")).toBe("b");
  expect(nextOpen(order, new Map([["b", 1], ["c", 1]]), "c")).toBe("a");
  expect(nextOpen(order, new Map(order.map((one) => [one, 1])), "b")).toBeNull();
});

test("a place is said as it is read out", () => {
  expect(pointWords("holder=3;point=top_left;side=a")).toBe("Holder 3, side A, top left");
});

// 0.197 in is the published depth of a 4x5 holder, as quoted from ASA Z38.1.51-1951.
test("inches typed as millimetres, slips and words are asked about at once", async () => {
  const catalogue = await loadCatalogue();
  expect(weigh("0.197", "in", [], catalogue)).toEqual({ ask: null, mm: 0.197 * 25.4 });
  expect(weigh("0.197", "mm", [5.0], catalogue)).toMatchObject({ ask: { likely_unit: "in" }, wrong: false });
  expect(weigh("5.97", "mm", [5.0, 5.01], catalogue)).toMatchObject({ wrong: false });
  expect(weigh("-5", "mm", [], catalogue)).toMatchObject({ wrong: true });
  expect(mmOf({ text: "worn", unit: "mm", tool: "ruler" })).toBeNull();
});
