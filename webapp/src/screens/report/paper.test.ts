// The paper of a PDF by the phone's language; which countries use letter is common practice, from memory.
import { expect, test } from "vitest";
import { usualPaper } from "./paper.ts";

test.each([["en-US", "letter"], ["es-MX", "letter"], ["en-GB", "a4"], ["de", "a4"], ["zh-Hant-TW", "a4"], ["", "a4"]] as const)("%s", (language, paper) => {
  expect(usualPaper(language)).toBe(paper);
});
