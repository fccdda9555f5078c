// Search over sessions (rules: own).
import { expect, it } from "vitest";
import { findSessions } from "./search.ts";

const ITEMS = [
  { session: "one", texts: ["Loft at Möhrenfeld", undefined] },
  { session: "one", texts: ["Folding field camera", "Nr. 1207"] },
  { session: "two", texts: ["Spring fair", null] },
];

it("finds words spread over a session and its pieces, without accents or case", () => {
  expect(findSessions("mohrenfeld 1207", ITEMS)).toEqual(["one"]);
});

it("wants every word", () => {
  expect(findSessions("fair camera", ITEMS)).toEqual([]);
});

it("finds all for an empty query, once each", () => {
  expect(findSessions("  ", ITEMS)).toEqual(["one", "two"]);
});
