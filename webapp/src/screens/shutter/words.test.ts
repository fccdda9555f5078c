// Times, errors and their limits as the recorder says them.
import { expect, it } from "vitest";
import { besideWords, clockWords, driftWords, errorWords, holdsWords, takesWords, unmarkedWords } from "./words.ts";

it("says the error with its interval against the exact time, and when the method alone could have made it", () => {
  const row = { nominal_s: 1 / 64, error_stops: 0.1, error_low: -0.05, error_high: 0.25 };
  expect(errorWords(row)).toBe("0.1 stop slow (−0.05 to +0.25) against 15.6 ms exact; it could be the method's own error.");
  expect(errorWords({ ...row, error_low: 0.06 })).toBe("0.1 stop slow (+0.06 to +0.25) against 15.6 ms exact.");
});

it("keeps drift apart, in words of the cold firing", () => {
  expect([driftWords(0.4), driftWords(-1.3), driftWords(0.02)]).toEqual(["0.4 stop slower than settled", "1.3 stops faster than settled", "no drift"]);
});

it("says at which stop a fast speed's figure holds; slow ones do not care (blade model of the method, 7a)", () => {
  expect(holdsWords(0.004, ["f/8"])).toContain("one stop down");
  expect(holdsWords(0.004, ["f/8"])).toContain("Taken at f/8.");
  expect(holdsWords(0.004, [])).toContain("Stop not noted.");
  expect(holdsWords(0.5, [])).toBe("");
});

it("says what the sound reads by itself", () => {
  expect(unmarkedWords({ unmarked: { verdict: "clear", open_time_s: 0.0208, firings: 3 } })).toBe("Without the mark it reads 20.8 ms in 3 firings, clear.");
  expect(unmarkedWords({ unmarked: { verdict: "unusable", open_time_s: null, firings: 0 } })).toBe("Without the mark nothing could be read.");
});

it("asks for as many firings as the person chose, and says that one is accepted", () => {
  expect([takesWords(0, 3), takesWords(1, 1), takesWords(0, 1), takesWords(5, 3)]).toEqual([
    "Take 1 of 3. One is accepted.", "One take is in; more are welcome.", "Take 1 of 1.", "5 takes are in; more are welcome.",
  ]);
});

it("keeps the machine's reading beside a person's marks", () => {
  expect(besideWords({ verdict: "doubtful", open_time_s: 0.0208, low_s: 0.02, high_s: 0.022 })).toBe("The machine reads 20.8 ms (20 ms to 22 ms), doubtful; its marks stand thin beside yours.");
  expect(besideWords(undefined)).toBe("By itself the machine could read no time.");
});

it("says a moment of a long recording as players show it", () => {
  expect([clockWords(0.4), clockWords(187.9), clockWords(3720)]).toEqual(["0:00", "3:07", "1:02:00"]);
});
