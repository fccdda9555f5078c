// Waiting in words: weeks that hold, intervals beside every figure, and too few said plainly.
import { expect, it } from "vitest";
import { likeWants, waitingOf } from "./wants.ts";
import { chanceWords, medianWords, sinceWords, waitedLine, withinWords } from "./words.ts";

const TODAY = "2026-11-25";
const want = (id: number, wanted: string, ended: { found?: string; dropped?: string } = {}, group = "Lenses") => ({ id: String(id), what: `Lens ${id}`, group, wanted, ...ended });
const wants = [
  want(1, "2026-01-01", { found: "2026-01-15" }), want(2, "2026-01-01", { found: "2026-02-05" }), want(3, "2026-01-01", { found: "2026-02-19" }),
  want(4, "2026-01-01", { dropped: "2026-03-05" }), want(5, "2026-10-21"),
];

it("says weeks that hold, and days while they are few", () => {
  expect([sinceWords("2026-11-24", TODAY), sinceWords("2026-11-12", TODAY), sinceWords("2026-10-21", TODAY)]).toEqual(["1 day", "13 days", "5 weeks"]);
  expect([withinWords(0.4), withinWords(6.2), withinWords(7)]).toEqual(["a week", "7 weeks", "7 weeks"]);
});

it("tells the wait beside that of such pieces, with n and interval", () => {
  const { of, waiting } = likeWants(wants[4]!, wants, TODAY);
  // Found after 2, 5 and 7 weeks, one let go after 9, one open for 5. By hand (Kaplan-Meier): 4/5, 3/5, then 3/5 × 1/2 = 0.3 at 7 weeks.
  expect([of, waiting.median.weeks, waiting.within(7).chance]).toEqual(["group", 7, expect.closeTo(0.7, 9)]);
  expect(waitedLine(wants[4]!, TODAY, of, waiting)).toMatch(/^You have waited 5 weeks; half of such pieces turned up within 7 weeks \(95 % interval 2 weeks to no upper end yet; 5 wants, 2 of them not found so far\)\.$/);
  expect(chanceWords(waiting, 5)).toMatch(/^40 % \(95 % interval \d+ % to \d+ %\)$/);
  expect(chanceWords(waiting, 30)).toBe("not known: the longest wait so far is 9 weeks");
  expect(chanceWords(waiting, 1)).toBe("none turned up so soon");
});

it("says too few, and goes to all wants where the group is small", () => {
  const other = want(6, "2026-11-01", {}, "Boards");
  expect(likeWants(other, [...wants, other], TODAY).of).toBe("all");
  expect(medianWords(waitingOf([wants[0]!, other], TODAY))).toBe("Too few to say how long it takes: 1 of 2 wants found, 3 are needed.");
  expect(chanceWords(waitingOf([other], TODAY), 4)).toBe("too few to say");
});
