// Figures in words: decimals by the uncertainty, a true minus sign, stops as they are said.
import { expect, test } from "vitest";
import { loadCatalogue } from "../../domain/catalogue.ts";
import { lengthWords, plainWords, stopWords } from "./figure_words.ts";

const catalogue = await loadCatalogue();

test("decimals follow the uncertainty", () => {
  expect(lengthWords({ value: 5.0214, low: 5.0094, high: 5.0334 }, "mm")).toBe("5.021 ± 0.012 mm");
  expect(lengthWords({ value: 5.02, low: 4.9, high: 5.14 }, "mm")).toBe("5.02 ± 0.12 mm");
  expect(lengthWords({ value: 5.0038, low: 4.9784, high: 5.0292 }, "in")).toBe("0.1970 ± 0.0010 in");
  expect(lengthWords({ value: 320, low: 314, high: 326 }, "mm")).toBe("320.0 ± 6.0 mm");
});

test("what is above and below nothing is told apart", () => {
  expect(lengthWords({ value: 0.2, low: 0.1, high: 0.3 }, "mm", { signed: true })).toBe("+0.20 ± 0.10 mm");
  expect(lengthWords({ value: -0.2, low: -0.3, high: -0.1 }, "mm", { signed: true })).toBe("−0.20 ± 0.10 mm");
});

test("plain lengths and stops", () => {
  expect(plainWords(5.0038, "in")).toBe("0.197 in");
  expect(plainWords(0.356, "mm")).toBe("0.36 mm");
  expect([4, 5.656854, 11.313708, 5.2, 23].map((n) => stopWords(n, catalogue))).toEqual(["f/4", "f/5.6", "f/11", "f/5.2", "f/23"]);
});
