// Words about shares (wording: own; the interval of 9 of 10 is Wilson's, NIST handbook 7.2.4.1 by its formula).
import { expect, it } from "vitest";
import { wilson } from "../../domain/intervals.ts";
import { fairWords, heldWords, usualWords } from "./fair_words.ts";

it("names the interval and the count, and no figure without dealings", () => {
  expect(fairWords({ of: 12, low: 0.617, high: 0.968 })).toBe("Fair in 62 to 97 % of dealings, by 12 dealings (19 times in 20).");
  expect(fairWords({ of: 0, low: 0.2, high: 0.9 })).toBe("No dealings noted yet.");
});

it("says what few dealings are pulled toward", () => {
  expect(usualWords({ share: 0.8, weight: 4 }, "shop", 1)).toBe("What is usual for this kind of venue (shop), 80 % fair, counts as 4 dealings and still weighs more than their own 1.");
  expect(usualWords({ share: 0.8, weight: 4 }, "", 9)).toBe("What is usual in your log, 80 % fair, counts as 4 dealings beside their own 9.");
});

it("says how many claims held", () => expect(heldWords(wilson(9, 10), 9, 10)).toBe("9 of 10 tested claims held: 60 to 98 % (19 times in 20)."));
