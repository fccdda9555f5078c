// The way through a pass (rules: own; "later is a skip and stores nothing": handbook section 3).
import { describe, expect, it } from "vitest";
import { firstOpen, laterStep, neighbour, nextStep, placeAt, stepBefore, stepForward, type StepsInput, withAnswered } from "./steps.ts";

const PLACES: Record<string, string[]> = { seat: [""], bellows: ["extension=full", "extension=middle", "extension=short"], screen: [""] };

function input(answered: string[]): StepsInput {
  return { order: ["seat", "bellows", "screen"], placesOf: (check) => PLACES[check] ?? [], answered: (check, place) => answered.includes(`${check} ${place}`) };
}

describe("nextStep", () => {
  it("stays with a check until its places are answered, going round", () => {
    expect(nextStep(input(["bellows extension=middle"]), { check: "bellows", place: "extension=middle" })).toEqual({ check: "bellows", place: "extension=short" });
    expect(nextStep(input(["bellows extension=short", "bellows extension=middle"]), { check: "bellows", place: "extension=short" })).toEqual({ check: "bellows", place: "extension=full" });
  });
  it("counts the place just answered as done, whether or not it has been read back yet", () => {
    expect(nextStep(input([]), { check: "seat", place: "" })).toEqual({ check: "bellows", place: "extension=full" });
  });
  it("passes over checks answered before, and ends", () => {
    const all = PLACES["bellows"]!.map((place) => `bellows ${place}`);
    expect(nextStep(input(all), { check: "seat", place: "" })).toEqual({ check: "screen", place: "" });
    expect(nextStep(input(all), { check: "screen", place: "" })).toBeNull();
  });
});

it("later leaves the check and its other places open", () => {
  expect(laterStep(input([]), { check: "bellows", place: "extension=full" })).toEqual({ check: "screen", place: "" });
});

it("takes a pass up at the first open place", () => {
  expect(firstOpen(input(["seat ", "bellows extension=full"]))).toEqual({ check: "bellows", place: "extension=middle" });
});

it("stands at the place wanted, else at the first open one, else at the first", () => {
  expect(placeAt(input([]), "bellows", "extension=short")).toBe("extension=short");
  expect(placeAt(input(["bellows extension=full"]), "bellows", undefined)).toBe("extension=middle");
  expect(placeAt(input(["bellows extension=full"]), "bellows", "extension=none")).toBe("extension=middle");
  expect(placeAt(input(["seat "]), "seat", "")).toBe("");
});

it("a look beside the order leads on to the first open check of it", () => {
  expect(nextStep(input(["seat "]), { check: "elsewhere", place: "" })).toEqual({ check: "bellows", place: "extension=full" });
});

it("goes back place by place, whatever was said there, and no further than the start", () => {
  expect(stepBefore(input([]), { check: "screen", place: "" })).toEqual({ check: "bellows", place: "extension=short" });
  expect(stepBefore(input([]), { check: "bellows", place: "extension=short" })).toEqual({ check: "bellows", place: "extension=middle" });
  expect(stepBefore(input([]), { check: "bellows", place: "extension=full" })).toEqual({ check: "seat", place: "" });
  expect(stepBefore(input([]), { check: "seat", place: "" })).toBeNull();
  expect(stepBefore(input([]), { check: "elsewhere", place: "" })).toBeNull();
});

it("comes forward to the places still open after what has its answer, and as later does from what has none", () => {
  const first = { check: "bellows", place: "extension=full" };
  expect(stepForward(input(["seat ", "bellows extension=full"]), first)).toEqual({ check: "bellows", place: "extension=middle" });
  expect(stepForward(input(["seat "]), first)).toEqual({ check: "screen", place: "" });
});

it("has no neighbour beyond the ends, nor for a check outside the order", () => {
  expect(neighbour(input([]), { check: "seat", place: "" }, -1)).toBeNull();
  expect(neighbour(input([]), { check: "elsewhere", place: "" }, 1)).toBeNull();
  expect(neighbour(input([]), { check: "seat", place: "" }, 1)).toEqual({ check: "bellows", place: "extension=full" });
});

it("goes on to the next check when one tap answered every place", () => {
  const all = withAnswered(input([]), "bellows", PLACES["bellows"]!);
  expect(nextStep(all, { check: "bellows", place: "extension=full" })).toEqual({ check: "screen", place: "" });
});
