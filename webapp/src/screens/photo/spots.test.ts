// Geometry of marked spots (arithmetic).
import { expect, it } from "vitest";
import { at, atPoint, moved, spotWords } from "./spots.ts";

it("turns a finger's point into fractions of the picture", () => {
  expect(atPoint(60, 120, { left: 10, top: 20, width: 100, height: 200 })).toEqual({ x: 0.5, y: 0.5 });
});

it("keeps spots inside the picture", () => {
  expect(at(-0.2, 1.7)).toEqual({ x: 0, y: 1 });
  expect(moved({ x: 0.99, y: 0 }, "ArrowRight", true)).toEqual({ x: 1, y: 0 });
  expect(moved({ x: 0.5, y: 0 }, "ArrowUp", false)).toEqual({ x: 0.5, y: 0 });
});

it("moves by keys, further with shift, and leaves other keys alone", () => {
  expect(moved({ x: 0.5, y: 0.5 }, "ArrowDown", false)).toEqual({ x: 0.5, y: 0.52 });
  expect(moved({ x: 0.5, y: 0.5 }, "ArrowLeft", true)).toEqual({ x: 0.4, y: 0.5 });
  expect(moved({ x: 0.5, y: 0.5 }, "Tab", false)).toBeNull();
});

it.each([
  [0.1, 0.1, "top left"], [0.5, 0.1, "at the top"], [0.9, 0.1, "top right"],
  [0.1, 0.5, "on the left"], [0.5, 0.5, "in the middle"], [0.9, 0.5, "on the right"],
  [0.1, 0.9, "bottom left"], [0.5, 0.9, "at the bottom"], [0.9, 0.9, "bottom right"],
])("says of a spot at %d, %d: %s", (x, y, words) => expect(spotWords({ x, y })).toBe(words));
