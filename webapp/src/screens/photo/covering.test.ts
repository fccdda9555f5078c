// Boxes over a photo (source: arithmetic; nothing under a box may show at its edge).
import { expect, it } from "vitest";
import { boxBetween, inPixels, spotWithin } from "./covering.ts";

it("goes between any two opposite corners, and a twitch is none", () => {
  expect(boxBetween({ x: 0.5, y: 0.75 }, { x: 0.25, y: 0.25 })).toEqual({ x: 0.25, y: 0.25, width: 0.25, height: 0.5 });
  expect(boxBetween({ x: 0.5, y: 0.5 }, { x: 0.505, y: 0.9 })).toBeNull();
});

it("covers every pixel it touches and none beyond the picture", () => {
  expect(inPixels({ x: 0.101, y: 0.101, width: 0.101, height: 0.1 }, 100, 100)).toEqual({ left: 10, top: 10, width: 11, height: 11 });
  expect(inPixels({ x: 0.5, y: 0.5, width: 0.5, height: 0.5 }, 33, 33)).toEqual({ left: 16, top: 16, width: 17, height: 17 });
});

it("takes spots along, or loses those that were cut away", () => {
  const box = { x: 0.2, y: 0.2, width: 0.5, height: 0.5 };
  expect(spotWithin({ x: 0.45, y: 0.2 }, box)).toEqual({ x: 0.5, y: 0 });
  expect(spotWithin({ x: 0.1, y: 0.5 }, box)).toBeNull();
});
