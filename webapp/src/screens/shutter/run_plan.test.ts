// A run goes from slow to fast, leaves no speed out, and does not wait for ever at one that stays doubtful.
import { expect, it } from "vitest";
import { hasEnough, nextMark, type Tally } from "./run_plan.ts";

const MARKS = ["1", "1/2", "1/5"];
const plan = (tallies: Record<string, Tally>, current: string) => nextMark(MARKS, (mark) => tallies[mark] ?? { clear: 0, kept: 0 }, current, 3);

it("takes the next speed, comes back to one that was skipped, and ends", () => {
  expect(plan({ "1": { clear: 3, kept: 3 } }, "1")).toBe("1/2");
  expect(plan({ "1/2": { clear: 3, kept: 3 }, "1/5": { clear: 3, kept: 3 } }, "1/5")).toBe("1");
  expect(plan(Object.fromEntries(MARKS.map((mark) => [mark, { clear: 3, kept: 4 }])), "1/5")).toBeNull();
});

it("has enough with three clear firings, or five of which some are doubtful", () => {
  expect([hasEnough({ clear: 2, kept: 4 }, 3), hasEnough({ clear: 2, kept: 5 }, 3), hasEnough({ clear: 3, kept: 3 }, 3)]).toEqual([false, true, true]);
});
