// The phone's timing engine on kept recordings: it must read what the server's engine has written down, and the truth.

import { readFileSync } from "node:fs";
import constants from "@catalogue/shutter_timing.json";
import { describe, expect, test } from "vitest";
import { highpassCoefficients, percentile } from "./shutter_signal.ts";
import { measure, measureMarks, type Measurement } from "./shutter_timing.ts";
import { parseWav } from "./wav.ts";

interface Held {
  readonly file: string;
  readonly marked_s: number | null;
  readonly true_open_times_s: readonly number[];
  readonly result: Measurement;
}

const FOLDER = new URL("../../../tests/files/shutter_sound/", import.meta.url);
const HELD = JSON.parse(readFileSync(new URL("results.json", FOLDER), "utf8")) as Held[];
/** How far phone and server may differ: 0.05 ms, a fraction of the best limits. */
const AGREE_S = 5e-5;

function read(held: Held): Measurement {
  const bytes = readFileSync(new URL(held.file, FOLDER));
  const { samples, rateHz } = parseWav(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer);
  return measure(samples, rateHz, held.marked_s, constants);
}

function expectNear(found: number | null, held: number | null): void {
  if (found === null || held === null) expect(found).toBe(held);
  else expect(Math.abs(found - held)).toBeLessThan(AGREE_S);
}

describe.each(HELD)("$file", (held) => {
  const found = read(held);

  test("has the server's verdict, reason and number of firings", () => {
    expect([found.verdict, found.reason, found.firings.length, found.algorithm]).toEqual([
      held.result.verdict,
      held.result.reason,
      held.result.firings.length,
      held.result.algorithm,
    ]);
  });

  test("has the server's times", () => {
    expectNear(found.open_time_s, held.result.open_time_s);
    expectNear(found.low_s, held.result.low_s);
    expectNear(found.high_s, held.result.high_s);
    expectNear(found.other_s, held.result.other_s);
    found.firings.forEach((firing, index) => {
      const kept = held.result.firings[index]!;
      for (const name of ["open_s", "close_s", "open_time_s", "low_s", "high_s", "other_s"] as const) expectNear(firing[name], kept[name]);
    });
    expect(found.common === null).toBe(held.result.common === null);
    if (found.common) expect(found.common.share).toBeCloseTo(held.result.common!.share, 6);
    expect([found.buzz?.ticks, found.buzz?.uneven]).toEqual([held.result.buzz?.ticks, held.result.buzz?.uneven]);
    expectNear(found.buzz?.dip_db ?? null, held.result.buzz?.dip_db ?? null);
    expect(found.clicks_s.length).toBe(held.result.clicks_s.length);
  });

  test("is true where it is clear", () => {
    if (found.verdict !== "clear") return expect(found.reason).toBeTruthy();
    const times = [...held.true_open_times_s].sort((a, b) => a - b);
    expect(Math.abs(Math.log2(found.open_time_s! / times[times.length >> 1]!))).toBeLessThan(1 / 3);
  });
});

test("the high-pass is Butterworth's", () => {
  // Reference: scipy.signal.butter(2, 2000, "highpass", fs=48000).
  const [b, a] = highpassCoefficients(2000, constants.highpass.q, 48000);
  const reference = { b: [0.8308980212742374, -1.6617960425484748, 0.8308980212742374], a: [1, -1.632993161855452, 0.6905989232414969] };
  b.forEach((value, index) => expect(value).toBeCloseTo(reference.b[index]!, 12));
  a.forEach((value, index) => expect(value).toBeCloseTo(reference.a[index]!, 12));
});

test("a percentile lies between the sorted values, as NumPy's default does", () => {
  // Reference: numpy.percentile([5, 1, 4, 2], 20) and of a single value.
  expect(percentile(Float64Array.of(5, 1, 4, 2), 20)).toBeCloseTo(1.6, 12);
  expect(percentile(Float64Array.of(3), 20)).toBe(3);
});

test.each([
  ["nothing", new Float32Array(0), "too_quiet"],
  ["silence", new Float32Array(48000), "too_quiet"],
  ["a constant", new Float32Array(48000).fill(0.5), "too_quiet"],
  ["full-scale square waves", Float32Array.from({ length: 48000 }, (_, index) => (index % 96 < 48 ? 0.9 : -0.9)), "clipped"],
  ["one click", Float32Array.from({ length: 48000 }, (_, index) => (index >= 20000 && index < 20010 ? 0.5 : 0)), null],
  ["a hundred samples", Float32Array.from({ length: 100 }, (_, index) => Math.sin(index * index) * 0.1), null],
])("%s gives no clear reading", (_, samples, reason) => {
  for (const markedS of [0.02, null]) {
    const found = measure(samples, 48000, markedS, constants);
    expect(found.verdict).not.toBe("clear");
    expect(Object.keys(constants.reasons)).toContain(found.reason);
    if (reason) expect(found.reason).toBe(reason);
  }
});

test("too few samples a second are refused", () => {
  expect(() => measure(Float32Array.from({ length: 1000 }, (_, index) => 0.1 * (index % 2)), 7999, null, constants)).toThrow("at least 8000");
});

test("marks that no shutter could make are unusable", () => {
  expect(measureMarks(0.5, 0.4, constants)).toMatchObject({ verdict: "unusable", reason: "marks_do_not_fit", open_time_s: null });
  expect(measureMarks(0.5, 0.52, constants).high_s! - 0.02).toBeCloseTo(0.00088, 5);
});
