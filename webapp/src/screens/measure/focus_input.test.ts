// Screen and film from what was typed: published figures, wrong fields named, nothing said before all is there.
import { expect, test } from "vitest";
import { loadCatalogue } from "../../domain/catalogue.ts";
import { doubtOf, type FocusWords, focusOf, unitsKept } from "./focus_input.ts";

const catalogue = await loadCatalogue();
// A 4x5 screen set to 0.190 in: where 7-mil film lies in a standard holder (ASA Z38.1.51-1951 as quoted).
const words: FocusWords = {
  unit: "in", format: "4x5", screen: ["0.190"], tool: "depth_gauge", between: "nothing", measured_to: "matte", sheet: "", index: "",
  divider_from: "standard", divider: "", film: "0.178", circle: "circle_of_confusion.1750",
};
const resultOf = (change: Partial<FocusWords>) => {
  const found = focusOf({ ...words, ...change }, catalogue);
  return found && "result" in found ? found.result : null;
};

test("a screen at the published depth less the film agrees with it", () => {
  const result = resultOf({})!;
  expect(result.found.error_mm.value).toBeCloseTo(0, 2);
  expect(result.found.sharp).toBe("cannot_tell");
});

// Derived: a fresnel of 1.5 mm, n 1.49, on the lens side is 0.493 mm off the measured depth.
test("a fresnel before the matte side makes it sharp nearer than focused", () => {
  const result = resultOf({ unit: "mm", screen: ["4.826"], between: "fresnel", sheet: "1.5", index: "1,49" })!;
  expect(result.found.error_mm.value).toBeCloseTo(-0.493, 2);
  expect(result.found.sharp).toBe("nearer");
});

// Derived: 2 mm of glass, n 1.52, the wrong way round: 1.32 mm deeper than its front.
test("glass the wrong way round is measured to its front", () => {
  const result = resultOf({ unit: "mm", screen: ["4.826"], between: "reversed", sheet: "2", index: "1.52" })!;
  expect(result.screen_mm.value - 4.826).toBeCloseTo(1.316, 3);
});

test("nothing is said before all is there, and a wrong field is named", () => {
  expect(focusOf({ ...words, screen: [""] }, catalogue)).toBeNull();
  expect(focusOf({ ...words, between: "fresnel" }, catalogue)).toBeNull();
  expect(focusOf({ ...words, screen: ["five"] }, catalogue)).toEqual({ wrong: { screen: "Type a length, as in 5.0 or 1 1/4." } });
  expect(focusOf({ ...words, unit: "mm", between: "fresnel", sheet: "1.5", index: "0.9" }, catalogue)).toMatchObject({ wrong: { index: expect.stringContaining("An index of 0.9 is no glass") } });
  expect(focusOf({ ...words, format: "9x12" }, catalogue)).toMatchObject({ wrong: { divider: expect.stringContaining("No depth is published") } });
});

test("inches typed as millimetres are noticed", () => {
  expect(doubtOf("screen", "0.190", "mm", catalogue)?.likely_unit).toBe("in");
  expect(doubtOf("screen", "", "mm", catalogue)).toBeNull();
});

test("another unit on the screen does not change what was typed", () => {
  const kept = unitsKept({ ...words, sheet: "1/16", divider: "5 mm" });
  expect([kept.screen, kept.sheet, kept.divider]).toEqual([["0.190 in"], "1/16 in", "5 mm"]);
  expect(resultOf({ ...kept, unit: "mm" })!.screen_mm.value).toBeCloseTo(0.19 * 25.4, 9);
});
