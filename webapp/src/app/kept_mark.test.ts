// What a phone says after its browser cleared the book (wording: own).
import { expect, it } from "vitest";
import { clearedWords, markText, parseMark } from "./kept_mark.ts";

it("reads the mark it left, and takes no other text for one", () => {
  for (const mark of [{ paired: true, unsaved_since: null }, { paired: false, unsaved_since: 1_780_000_000_000 }]) expect(parseMark(markText(mark))).toEqual(mark);
  for (const text of [null, undefined, "", "paired", "alone.x", "paired.1; other=2"]) expect(parseMark(text)).toBeNull();
});

it("says what brings the book back: the server, a file, or both", () => {
  expect(clearedWords({ paired: true, unsaved_since: null }).todo).toBe("All of it was on your server. Pair this phone again, and it comes back.");
  expect(clearedWords({ paired: true, unsaved_since: new Date(2026, 4, 3, 12).getTime() }).todo).toMatch(/Pair this phone again.*3.* had not all been sent.*load it under Device/);
  expect(clearedWords({ paired: false, unsaved_since: 1 }).todo).toMatch(/on this phone alone.*load that file under Device/);
});
