// The cut keeps at least half a second round the firings, and otherwise the loudest stretch.
import { expect, it } from "vitest";
import { LOUDEST_S, ROOM_S, trim } from "./trim.ts";

const rate = 8000;
const firing = { open_s: 4, close_s: 4.5, open_time_s: 0.5, low_s: 0.49, high_s: 0.51, verdict: "clear", reason: null, other_s: null } as const;

it("keeps the firings and the room round them, and nothing of the talk before", () => {
  const samples = new Float32Array(10 * rate);
  samples[rate] = 0.5;
  const kept = trim(samples, rate, { firings: [firing] });
  expect(kept.length / rate).toBeCloseTo(0.5 + 2 * ROOM_S, 3);
  expect(ROOM_S).toBeGreaterThanOrEqual(0.5);
  expect(kept.some((sample) => sample !== 0)).toBe(false);
});

it("keeps the loudest stretch when nothing was found", () => {
  const samples = new Float32Array(20 * rate);
  for (let i = 14 * rate; i < 15 * rate; i += 1) samples[i] = 0.3;
  const kept = trim(samples, rate, { firings: [] });
  expect(kept.length).toBe(LOUDEST_S * rate);
  expect(kept.filter((sample) => sample !== 0).length).toBe(rate);
});
