// What is typed for a deal is read as people write it, and refused in words (decimals of currencies: ISO 4217).
import { expect, test } from "vitest";
import { about, chanceWords } from "./words.ts";
import { amountText, readPercent, readSpan, readWeeks } from "./typed.ts";

test("one figure stands for all three, and the order is kept", () => {
  expect(readSpan("", "89,50", "", "EUR")).toEqual({ low_minor: 8950, likely_minor: 8950, high_minor: 8950 });
  expect(readSpan("80", "90", "1.200", "EUR")).toEqual({ low_minor: 8000, likely_minor: 9000, high_minor: 120000 });
  expect(() => readSpan("100", "90", "120", "EUR")).toThrow("Low must not be above likely");
  expect(() => readSpan("80", "", "120", "EUR")).toThrow("Type the likely figure");
  expect(() => readSpan("80", "-3", "120", "EUR")).toThrow("Type an amount");
});

test("percentages are shares of one, never above what makes sense", () => {
  expect(readPercent("20 %", 200)).toBe(0.2);
  expect(readPercent("7,5", 200)).toBe(0.075);
  for (const wrong of ["", "much", "-1", "1e3", "201"]) expect(() => readPercent(wrong, 200)).toThrow("from 0 to 200");
});

test("weeks, amounts and sums of guesses", () => {
  expect([readWeeks("2,5"), readWeeks("x")]).toEqual([2.5, Number.NaN]);
  expect([amountText(8950, "EUR"), amountText(12000, "EUR"), amountText(500, "JPY"), amountText(null, "EUR")]).toEqual(["89.50", "120", "500", ""]);
  expect(about(123_456, "EUR")).toBe("1\u00a0230\u00a0EUR");
  expect(about(4_567, "EUR")).toBe("46\u00a0EUR");
  expect(about(123_456, "JPY")).toBe("123\u00a0000\u00a0JPY");
  expect([chanceWords(0.05), chanceWords(0.5), chanceWords(0.96)]).toEqual(["1 in 20", "5 in 10", "almost sure"]);
});
