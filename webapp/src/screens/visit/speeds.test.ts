// Marked speeds as lists (the series: handbook section 5; reading a ring's bare numbers: common practice, no source).
import { expect, it } from "vitest";
import { ownList, seriesList } from "./speeds.ts";

it("takes marks for themselves, however they are written", () => {
  expect(ownList("1, 1/5 10;1/75")).toEqual({
    series: "own",
    marks: [{ text: "1", seconds: 1 }, { text: "1/5", seconds: 0.2 }, { text: "1/10", seconds: 0.1 }, { text: "1/75", seconds: 1 / 75 }],
  });
});

it("keeps T and B, and whole seconds marked as such", () => {
  expect(ownList("t B 2s").marks).toEqual([{ text: "T", seconds: null }, { text: "B", seconds: null }, { text: "2", seconds: 2 }]);
});

it.each(["1/0", "fast", "0"])("refuses %s by name", (word) => expect(() => ownList(`1 ${word}`)).toThrow(word));

it("keeps what a series' marks say, not what they stand for: 1/125 stays 1/125 s (handbook section 5)", () => {
  const list = seriesList({ id: "current", marks: [{ text: "1/125", nominal: { num: 1, den: 128 } }] });
  expect(list).toEqual({ series: "current", marks: [{ text: "1/125", seconds: 1 / 125 }] });
});
