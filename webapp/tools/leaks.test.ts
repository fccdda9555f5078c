// The leak command of the web app's side: one JSON text for a picture, one sentence and exit code 2 for anything else.
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gunzipSync } from "node:zlib";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { main } from "./leaks.ts";

const folder = mkdtempSync(join(tmpdir(), "leaks-"));
const picture = join(folder, "leak.ppm");
writeFileSync(picture, gunzipSync(readFileSync(fileURLToPath(new URL("../../tests/files/leaks/leak.ppm.gz", import.meta.url)))));
const [out, error] = [vi.fn(), vi.fn()];

beforeEach(() => {
  vi.spyOn(console, "log").mockImplementation(out);
  vi.spyOn(console, "error").mockImplementation(error);
});
afterEach(() => {
  vi.restoreAllMocks();
  out.mockClear();
  error.mockClear();
});

test("prints one JSON text, alone and by a list", () => {
  expect(main([picture, "--json"])).toBe(0);
  const found = JSON.parse(out.mock.calls[0]![0]) as { points: { x: number }[] };
  expect(found.points).toHaveLength(1);
  const list = join(folder, "list.json");
  writeFileSync(list, JSON.stringify([{ working: picture, full: picture }]));
  expect(main(["--list", list])).toBe(0);
  expect(JSON.parse(out.mock.calls[1]![0])).toEqual([found]);
});

test.each([
  ["no file named", [], "Name a PPM picture"],
  ["a file that is not there", ["not-there.ppm"], "cannot be read"],
  ["an option nobody knows", [picture, "--loud"], "--loud"],
])("%s: one sentence and exit code 2", (_, words, said) => {
  expect(main(words)).toBe(2);
  expect(out).not.toHaveBeenCalled();
  expect(error.mock.calls[0]![0]).toContain(said);
});

test.each([["words.ppm", "only words", "not a PPM"], ["cut.ppm", "P6\n9 9\n255\nabc", "cut short"]])("%s: one sentence and exit code 2", (name, words, said) => {
  writeFileSync(join(folder, name), words);
  expect(main([join(folder, name)])).toBe(2);
  expect(error.mock.calls[0]![0]).toContain(said);
});
