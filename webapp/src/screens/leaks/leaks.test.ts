// What the leak finder's screen says and keeps: words on places, marks, the drawn part (rules of handbook section 6).
import { expect, test } from "vitest";
import type { LeakPlace } from "../../domain/leak_reading.ts";
import { cornersOf, simplified } from "./region.ts";
import { verdictWords } from "./words.ts";
import { type Machine, marksAfter, marksWith, marksWithout, settledBy, workOf } from "./work.ts";

const machine: Machine = {
  usable: true, reasons: [], sharpness: "sharp", limit_code: 18, algorithm: "dark-1", catalogue: 1,
  points: [{ x: 99.5, y: 49.5, box: [98, 48, 101, 51], kind: "spot", strength: 30, peak_code: 90 }],
};
const place: LeakPlace = { number: 1, of: 0, at: { x: 0.5, y: 0.5 }, kind: "spot", strength: "strong", said: "candidate" };
const LIMIT = "Nothing brighter than about 18 of 255 levels above its surroundings in this photo.";

test("absence is told with the photo's own limit, and never as a promise", () => {
  const told = verdictWords({ ...machine, points: [] }, false, LIMIT);
  expect(told.words).toContain(LIMIT);
  expect(JSON.stringify(told)).not.toMatch(/light-tight|no leak|%/i);
});

test("too much light is refused, a moved photo only warned of", () => {
  expect(verdictWords({ ...machine, usable: false, reasons: ["too_much_light"] }, false, null)).toMatchObject({ tone: "bad" });
  expect(verdictWords({ ...machine, usable: false, reasons: ["moved"] }, true, LIMIT)).toMatchObject({ tone: "care" });
});

test("a word on a place is kept, changed and taken back", () => {
  const confirmed = marksAfter([], place, "confirmed");
  expect(confirmed).toEqual([{ of: 0, at: place.at, said: "confirmed" }]);
  expect(marksAfter(confirmed, { ...place, said: "confirmed" }, "struck_out")).toEqual([{ of: 0, at: place.at, said: "struck_out" }]);
  expect(marksAfter(confirmed, { ...place, said: "confirmed" }, "confirmed")).toEqual([]);
});

test("a place of one's own is added and taken off, others stay", () => {
  const both = marksWith(marksAfter([], place, "confirmed"), { x: 0.2, y: 0.3 });
  expect(marksWithout(both, { ...place, of: null, at: { x: 0.2, y: 0.3 }, said: "added" })).toEqual([{ of: 0, at: place.at, said: "confirmed" }]);
});

test("without a second photo nothing is settled; with the lamp off and nothing left the place was the lamp's", () => {
  const work = { ...workOf(undefined, undefined), machine };
  expect(settledBy(work, 200, 100)).toEqual([]);
  const second = { photo: "p", how: "lamp_off" as const, machine: { ...machine, points: [] }, width: 200, height: 100 };
  expect(settledBy({ ...work, second }, 200, 100)).toEqual([{ said: "gone", at: null }]);
});

test("a drawn line keeps its shape with few corners; a slip of the finger is none", () => {
  const circle = Array.from({ length: 200 }, (_, index) => ({ x: 0.5 + 0.3 * Math.cos((index / 200) * 2 * Math.PI), y: 0.5 + 0.3 * Math.sin((index / 200) * 2 * Math.PI) }));
  const corners = simplified(circle)!;
  expect(corners.length).toBeGreaterThan(6);
  expect(corners.length).toBeLessThan(40);
  for (const { x, y } of corners) expect(Math.hypot(x - 0.5, y - 0.5)).toBeCloseTo(0.3, 6);
  expect(simplified(circle.map(({ x, y }) => ({ x: x / 50, y: y / 50 })))).toBeNull();
  expect(simplified([])).toBeNull();
});

test("two corners are a rectangle", () => {
  expect(cornersOf({ x: 0.1, y: 0.2 }, { x: 0.8, y: 0.9 })).toEqual([{ x: 0.1, y: 0.2 }, { x: 0.8, y: 0.2 }, { x: 0.8, y: 0.9 }, { x: 0.1, y: 0.9 }]);
});
