// The timing command of the phone's side prints what the server's prints, and says in one line what it cannot measure.

import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { main } from "./timing.ts";

const KEPT = fileURLToPath(new URL("../../tests/files/shutter_sound/50th.wav", import.meta.url));
const out = vi.fn<(text: string) => void>();
const error = vi.fn<(text: string) => void>();

beforeEach(() => {
  vi.spyOn(console, "log").mockImplementation(out);
  vi.spyOn(console, "error").mockImplementation(error);
});
afterEach(() => {
  vi.restoreAllMocks();
  out.mockClear();
  error.mockClear();
});

test("prints one JSON text with the mark's exact time and the error in stops", async () => {
  expect(await main([KEPT, "--marked", "1/50", "--series", "older", "--json"])).toBe(0);
  const found = JSON.parse(out.mock.calls[0]![0]) as Record<string, number>;
  expect(found).toMatchObject({ verdict: "clear", marked_s: 0.02, nominal_s: 0.02, interval: "click to click" });
  expect(found.error_stops).toBeCloseTo(Math.log2(found.open_time_s! / 0.02), 9);
});

test.each([
  ["no file named", [], "Name one"],
  ["a file that is not there", ["not-there.wav"], "cannot be read"],
  ["a word for a mark", [KEPT, "--marked", "fast"], "no marked speed"],
  ["a series nobody knows", [KEPT, "--series", "mine"], "current, older, odd"],
  ["an option nobody knows", [KEPT, "--loud"], "--loud"],
])("%s: one sentence and exit code 2", async (_, words, said) => {
  expect(await main(words)).toBe(2);
  expect(out).not.toHaveBeenCalled();
  expect(error.mock.calls[0]![0]).toContain(said);
});

test("a file that is no sound: one sentence and exit code 2", async () => {
  const path = join(mkdtempSync(join(tmpdir(), "timing-")), "words.wav");
  writeFileSync(path, "only words");
  expect(await main([path])).toBe(2);
  expect(error.mock.calls[0]![0]).toContain("not a WAV");
});
