// The small tools' figures: from readings and back, doubts at once, nothing said while too little is typed.
import { expect, test } from "vitest";
import { loadCatalogue } from "../../domain/catalogue.ts";
import type { Rec } from "../../store/store.ts";
import { type Asked, doubtIn, mmIn, reckon, typedIn, wordsOf } from "./plan.ts";

const catalogue = await loadCatalogue();
const focal: Asked = { id: "focal", measure: "focal_mm", label: "Focal length", reading: { check: "lens.fit.focal", reading: "focal_marked" } };
const reading = (text: string, unit: string) => ({ id: "r", kind: "reading", values: { check: "lens.fit.focal", reading: "focal_marked", place: "", typed: { text, unit } } }) as unknown as Rec;

test("a reading stands in the field with its unit, and goes back as it was typed", () => {
  expect(wordsOf([focal], [reading("8 1/4", "in")])).toEqual({ focal: "8 1/4 in" });
  expect(typedIn("8 1/4 in", "mm")).toEqual({ text: "8 1/4", unit: "in" });
  expect(typedIn("210", "mm")).toEqual({ text: "210", unit: "mm" });
  expect(typedIn("8¼\"", "mm")).toEqual({ text: "8¼", unit: "in" });
  expect(mmIn({ focal: "10 in" }, "focal", "mm")).toBe(254);
});

// Arithmetic: 8.25 in are 209.55 mm, a usual focal length; 8.25 mm is none.
test("inches typed as millimetres are noticed", () => {
  expect(doubtIn({ focal: "8.25" }, focal, "mm", catalogue)?.likely_unit).toBe("in");
  expect(doubtIn({ focal: "8.25" }, focal, "in", catalogue)).toBeNull();
  expect(doubtIn({ focal: "long" }, focal, "mm", catalogue)?.message).toContain("Type a length");
  expect(doubtIn({}, focal, "mm", catalogue)).toBeNull();
});

test("a fault in a figure is words, a fault in the code is not", () => {
  expect(reckon(() => null)).toBeNull();
  expect(reckon(() => 2)).toEqual({ value: 2 });
  expect(reckon(() => { throw new RangeError("Too long."); })).toEqual({ wrong: "Too long." });
  expect(() => reckon(() => { throw new TypeError("ours"); })).toThrow("ours");
});
