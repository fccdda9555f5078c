// The waveform's view: what is held stays under the finger, and nothing outside of the sound is ever shown.
import fc from "fast-check";
import { expect, it } from "vitest";
import { along, close, pinched, round, type Span, steps, zoomed } from "./view_span.ts";

const LENGTH = 6;
const span = fc.tuple(fc.double({ min: 0, max: 5, noNaN: true }), fc.double({ min: 0.01, max: 6, noNaN: true })).map(([from, width]): Span => ({ from_s: from, to_s: Math.min(LENGTH, from + width) }));
const isInside = ({ from_s, to_s }: Span) => from_s >= 0 && to_s <= LENGTH + 1e-9 && to_s - from_s >= 0.003 - 1e-9;

it("never shows what lies outside of the sound, nor less than a few milliseconds", () => {
  fc.assert(fc.property(span, fc.double({ min: 0.01, max: 100, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: -3, max: 3, noNaN: true }), (shown, share, about, by) =>
    isInside(zoomed(shown, share, shown.from_s + about * (shown.to_s - shown.from_s), LENGTH)) && isInside(along(shown, by, LENGTH)) && isInside(close(about * LENGTH, LENGTH))));
});

it("keeps the moment it zooms about where it is", () => {
  const found = zoomed({ from_s: 2, to_s: 4 }, 0.5, 2.5, LENGTH);
  expect(found.from_s).toBeCloseTo(2.25, 9);
  expect(found.to_s).toBeCloseTo(3.25, 9);
});

it("keeps both moments under the two fingers", () => {
  const found = pinched({ s: 2, at: 0.25 }, { s: 2.5, at: 0.75 }, LENGTH);
  expect([found.from_s, found.to_s]).toEqual([1.75, 2.75]);
  expect(isInside(pinched({ s: 2, at: 0.5 }, { s: 2.5, at: 0.5 }, LENGTH))).toBe(true);
});

it("shows a firing with room, and all of a sound that is shorter than that", () => {
  expect(round({ open_s: 1, close_s: 1.02 }, LENGTH)).toEqual({ from_s: 0.985, to_s: expect.closeTo(1.035, 9) });
  expect(round({ open_s: 1, close_s: 2 }, 3)).toEqual({ from_s: 0.4, to_s: expect.closeTo(2.6, 9) });
  expect(close(0, 0.01)).toEqual({ from_s: 0, to_s: 0.01 });
});

it("moves a mark finely by a tenth of a millisecond, coarsely by what the view is worth", () => {
  expect(steps({ from_s: 0, to_s: 4 })).toEqual({ fine_s: 0.0001, coarse_s: 0.1 });
  expect(steps({ from_s: 0, to_s: 0.01 }).coarse_s).toBe(0.001);
});
