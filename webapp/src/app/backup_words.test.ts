// The words about a missing backup (wording: own).
import { expect, it } from "vitest";
import { sinceWords } from "./backup_words.ts";

const EDITED = new Date(2026, 4, 3, 15).getTime();

it("is silent while all is safe, and while the first edit is new", () => {
  expect(sinceWords(undefined, EDITED)).toBe("");
  expect(sinceWords(EDITED, EDITED + 1000)).toBe("");
});

it("names the day of the oldest edit that lies on this phone alone", () => {
  expect(sinceWords(EDITED, new Date(2026, 4, 4, 16).getTime())).toMatch(/^no backup since .*3/);
});
