// What the level says: about 50 pieces a second come in, and a click is over in one of them.
import { expect, it } from "vitest";
import { LevelWords, NOTHING_YET } from "./level_words.ts";

const after = (words: LevelWords, pieces: number, peak: number) => Array.from({ length: pieces }, () => words.hear(peak)).at(-1)!;

it("waits, and after five quiet seconds says to come closer", () => {
  const words = new LevelWords();
  expect(after(words, 250, 0.001)).toBe(NOTHING_YET);
  expect(words.hear(0.001)).toContain("Too quiet");
  expect(words.hear(0.3)).toContain("loud enough");
});

it("says clipped and too loud for long enough to be read, then forgets", () => {
  const words = new LevelWords();
  expect(words.hear(1)).toContain("Clipped");
  expect(after(words, 100, 0.001)).toContain("Clipped");
  expect(after(words, 60, 0.001)).toContain("loud enough");
  expect(words.hear(0.85)).toContain("Too loud");
  expect(after(words, 3000, 0.001)).toContain("Too quiet");
});
