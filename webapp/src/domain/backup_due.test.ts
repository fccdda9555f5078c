// A copy is asked for from a day after the first edit without one (rule: own).
import { expect, it } from "vitest";
import { isBackupDue } from "./backup_due.ts";

const FIRST = Date.UTC(2026, 10, 25, 9, 30);

it.each([
  ["within a second of the first entry", FIRST + 1000, false],
  ["in the evening of the same sale", FIRST + 12 * 3_600_000, false],
  ["a minute before a day is over", FIRST + 86_340_000, false],
  ["a day later", FIRST + 86_400_000, true],
  ["weeks later", FIRST + 20 * 86_400_000, true],
  ["when the clock was set back since", FIRST - 3_600_000, false],
])("%s", (_, nowMs, due) => expect(isBackupDue(FIRST, nowMs)).toBe(due));

it("is never due while a server or a file holds everything", () => expect(isBackupDue(undefined, FIRST)).toBe(false));
