// Taps on a photo: pixels of the picture from pixels of the screen, surer the closer the picture is looked at.
import { expect, test } from "vitest";
import { nudged, tapAt } from "./taps.ts";

test("a tap is surer on a picture drawn larger", () => {
  expect(tapAt(100, 50, 360, 1440)).toEqual({ x: 400, y: 200, u_px: 8 });
  expect(tapAt(400, 200, 1440, 1440)).toEqual({ x: 400, y: 200, u_px: 2 });
  expect(tapAt(10, 10, 4000, 1000).u_px).toBe(1);
});

test("arrows move a tap by a step of the screen", () => {
  const tap = { x: 10, y: 10, u_px: 2 };
  expect(nudged(tap, "ArrowLeft", false, 2)).toEqual({ x: 8, y: 10, u_px: 2 });
  expect(nudged(tap, "ArrowDown", true, 2)).toEqual({ x: 10, y: 30, u_px: 2 });
  expect(nudged(tap, "Enter", false, 2)).toBeNull();
});
