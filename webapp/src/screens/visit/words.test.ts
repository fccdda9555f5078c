// Words for places, spans and tags, as the handbook's sections 2 to 4 name them (the wording itself: own).
import { describe, expect, it } from "vitest";
import { nextTag, outcomeSign, OUTCOMES, placeWords, spanWords, verdictSign } from "./words.ts";

describe("outcomes", () => {
  it("are the five of handbook section 3, in its order", () => {
    expect(OUTCOMES.map((one) => one.id)).toEqual(["in_order", "worn", "faulty", "cannot_tell", "not_checked"]);
  });
  it("differ in tone, so that shape and colour differ", () => {
    expect(new Set(OUTCOMES.map((one) => one.tone)).size).toBe(5);
  });
  it("says of an untouched check that it is still to look at, never that it is in order", () => {
    expect(outcomeSign(undefined).word).toBe("Still to look at");
    expect(outcomeSign(undefined).tone).toBe("none");
  });
});

describe("placeWords", () => {
  it.each([
    ["", ""],
    ["holder=3;side=a", "holder 3, side A"],
    ["speed=1/50", "1/50"],
    ["speed=1", "1\u00a0s"],
    ["extension=full", "full extension"],
    ["corner=top_left", "corner top left"],
  ])("%s is %s", (place, words) => expect(placeWords(place)).toBe(words));
});

it("tells seconds up to a minute and a half, then minutes", () => {
  expect([spanWords(20), spanWords(89), spanWords(300)]).toEqual(["20\u00a0s", "89\u00a0s", "5\u00a0min"]);
});

it("gives the first free letter, and goes round after Z", () => {
  expect(nextTag([])).toBe("A");
  expect(nextTag(["A", "C"])).toBe("B");
  expect(nextTag(Array.from({ length: 26 }, (_, turn) => String.fromCharCode(65 + turn)))).toBe("A");
});

it("shows an unknown verdict by its own name, not as good", () => {
  expect(verdictSign("some_later_word")).toEqual({ word: "some later word", tone: "none" });
});
