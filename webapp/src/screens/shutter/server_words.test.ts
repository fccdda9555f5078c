// The line that holds the server's reading against the phone's: the same within 0.05 ms and in verdict, or the difference.
import { expect, it } from "vitest";
import { serverWords, type ServerReading } from "./server_words.ts";

const phone: ServerReading = { verdict: "clear", open_time_s: 0.02, low_s: 0.0195, high_s: 0.0205, algorithm: "clicks-1" };
const none: ServerReading = { verdict: "unusable", open_time_s: null, low_s: null, high_s: null, algorithm: "clicks-1" };

it("says the same within 0.05 ms, also of what neither can read", () => {
  expect(serverWords(phone, { ...phone, open_time_s: 0.02004 })).toBe("The server reads the same.");
  expect(serverWords(none, none)).toBe("The server cannot read it either.");
});

it("says the difference in time, in verdict and in what only one can read", () => {
  expect(serverWords(phone, { ...phone, open_time_s: 0.0202 })).toBe("The server differs: it reads 20.2 ms (19.5 ms to 20.5 ms), clear.");
  expect(serverWords(phone, { ...phone, verdict: "doubtful" })).toContain("doubtful");
  expect(serverWords(phone, none)).toBe("The server differs: it cannot read it.");
});

it("names two versions of the method, which explain a difference", () => {
  expect(serverWords(phone, { ...phone, open_time_s: 0.021, algorithm: "clicks-2" })).toContain("clicks-2, this phone by clicks-1");
});
