// The phone's leak finder against what the server's side gives, and its steps against what scipy.ndimage gives.
//
// tests/files/leaks holds both; make.py there says how they were made, tests/test_leak_filters.py holds the steps to scipy again.

import constants from "@catalogue/leaks.json";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { gunzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import held from "../../../tests/files/leaks/results.json";
import steps from "../../../tests/files/leaks/steps.json";
import { parsePpm } from "../../tools/ppm.ts";
import { wholePicture } from "./leak_doubts.ts";
import { blockMeans, boxMean, convolved, enlargedAt, gaussian, lessEnlarged, Levels, type Pixels, type Plane, planeOf, smoothed, steppedMedian, surfaceCeiling } from "./leak_filters.ts";
import { findIn, type LeakResult } from "./leak_finder.ts";
import { areaReduced, type Rows } from "./leak_reduce.ts";

const pictureOf = (name: string) => parsePpm(gunzipSync(readFileSync(fileURLToPath(new URL(`../../../tests/files/leaks/${name}`, import.meta.url)))));

describe("kept pictures", () => {
  test.each(held.map((entry) => [entry.file, entry] as const))("%s", (file, entry) => {
    const pixels = pictureOf(file);
    const found = findIn(pixels, wholePicture(pixels), constants);
    const kept = entry.result as unknown as LeakResult;
    expect({ ...found, points: null }).toEqual({ ...kept, points: null });
    expect(found.points.length).toBe(kept.points.length);
    found.points.forEach((point, index) => {
      expect(Math.hypot(point.x - kept.points[index]!.x, point.y - kept.points[index]!.y)).toBeLessThan(0.2);
      expect(point.strength).toBeCloseTo(kept.points[index]!.strength, 0);
    });
  });
});

const plane = (rows: readonly (readonly number[])[]): Plane => planeOf(rows[0]!.length, rows.length, Float32Array.from(rows.flat()));

/** Of every step of the kept file: the call of this side. */
const CALLS: Readonly<Record<string, (source: Plane, options: readonly unknown[]) => Plane>> = {
  smoothed: (source) => smoothed(source),
  box_mean: (source, [side]) => boxMean(source, side as number),
  surface_ceiling: (source, [hold, reach]) => surfaceCeiling(source, hold as number, reach as number),
  stepped_median: (source, [side, parts]) => steppedMedian(source, side as number, parts as number),
  block_means: (source, [block]) => blockMeans(source, block as number),
  gaussian: (source, [sigma]) => convolved(source, gaussian(sigma as number)),
  enlarged: (source, [block, shape]) => {
    const [height, width] = shape as [number, number];
    const out = planeOf(width, height);
    for (let y = 0; y < height; y += 1) for (let x = 0; x < width; x += 1) out.values[y * width + x] = enlargedAt(source, block as number, x, y);
    return out;
  },
};

test.each(steps.map((step) => [step.function, step] as const))("step %s is what scipy.ndimage gives", (name, step) => {
  const got = CALLS[name]!(plane(step.in), step.with);
  const wanted = plane(step.out);
  expect([got.width, got.height]).toEqual([wanted.width, wanted.height]);
  got.values.forEach((value, index) => expect(Math.abs(value - wanted.values[index]!)).toBeLessThanOrEqual(step.tolerance + 1e-5));
});

test("less the enlarged is one by one the same", () => {
  const source = plane(steps[0]!.in);
  const blocks = blockMeans(source, 4);
  lessEnlarged(source, blocks, 4).values.forEach((value, at) => {
    expect(value).toBeCloseTo(source.values[at]! - enlargedAt(blocks, 4, at % source.width, Math.floor(at / source.width)), 3);
  });
});

test("a rank is that of the sorted levels, to half a step", () => {
  const levels = new Levels(32, 64);
  const values = Array.from({ length: 501 }, (_, index) => ((index * 37) % 501) / 5 - 50);
  for (const value of values) levels.add(value);
  const sorted = values.toSorted((a, b) => a - b);
  for (const share of [0, 0.25, 0.5, 0.9, 1]) expect(Math.abs(levels.rank(share) - sorted[Math.max(0, Math.ceil(share * 501) - 1)]!)).toBeLessThanOrEqual(0.5 / 32 + 1e-9);
});

const rowsOf = ({ width, height, data }: Pixels): Rows => ({ width, height, rows: (top, count) => data.subarray(top * width * 4, (top + count) * width * 4) });

test("reducing keeps the light of every area", () => {
  const source = pictureOf("leak.ppm.gz");
  const small = areaReduced(rowsOf(source), [203, 151]);
  const mean = ({ data }: Pixels) => Array.from(data).reduce((sum, value, index) => (index % 4 < 3 ? sum + value : sum), 0) / ((data.length / 4) * 3);
  expect(small.data.length).toBe(203 * 151 * 4);
  expect(Math.abs(mean(small) - mean(source))).toBeLessThan(0.05);
  // Two by two: the plain mean of four pixels.
  const half = areaReduced(rowsOf(source), [source.width / 2, source.height / 2]);
  for (const [x, y] of [[0, 0], [97, 130], [255, 191]] as const) {
    const at = (dx: number, dy: number) => source.data[((2 * y + dy) * source.width + 2 * x + dx) * 4]!;
    expect(half.data[(y * half.width + x) * 4]).toBe(Math.floor((at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1)) / 4 + 0.5));
  }
});

test("a cutout beyond the edge repeats it", () => {
  const cut = wholePicture({ width: 2, height: 1, data: Uint8Array.from([1, 2, 3, 255, 7, 8, 9, 255]) }).cutout(-1, -1, 4);
  expect(Array.from(cut.data).filter((_, index) => index % 4 === 0)).toEqual([1, 1, 7, 7, 1, 1, 7, 7, 1, 1, 7, 7, 1, 1, 7, 7]);
});
