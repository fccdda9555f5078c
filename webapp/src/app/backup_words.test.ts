// The words about a missing backup (wording: own).
import { expect, it } from "vitest";
import { sinceWords } from "./backup_words.ts";

it("is silent while all is safe", () => {
  expect(sinceWords(undefined)).toBe("");
});

it("names the day of the oldest edit that lies on this phone alone", () => {
  expect(sinceWords(new Date(2026, 4, 3, 15).getTime())).toMatch(/^no backup since .*3/);
});
