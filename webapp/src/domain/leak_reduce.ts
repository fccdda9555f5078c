// A photo brought down to the working size of the leak finder: each pixel the mean of the area it covers.

import { CHANNELS, type Pixels } from "./leak_filters.ts";

/** [width, height] of a picture brought down to at most `longEdge` px, never up, at least 1 px each. */
export function reducedSize(width: number, height: number, longEdge: number): [number, number] {
  const longest = Math.max(width, height);
  if (longest <= longEdge) return [width, height];
  const part = (size: number) => Math.max(1, Math.floor((2 * size * longEdge + longest) / (2 * longest)));
  return [part(width), part(height)];
}

/** A photo that is read a few rows at a time, so that it is never held whole. */
export interface Rows {
  readonly width: number;
  readonly height: number;
  /** RGBA of `count` rows from `top`. */
  rows(top: number, count: number): Uint8ClampedArray | Uint8Array;
}

/** Rows asked for at a time. */
const STRIP = 128;

/** The means of the areas that each pixel of the smaller size covers; `hear` is told the share read, 0..1. */
export function areaReduced(full: Rows, [width, height]: readonly [number, number], hear: (share: number) => void = () => undefined): Pixels {
  const data = new Uint8ClampedArray(width * height * CHANNELS).fill(255);
  const [tall, wide] = [full.height / height, full.width / width];
  const edges = Array.from({ length: width + 1 }, (_, x) => x * wide);
  const sums = new Float64Array(full.width * CHANNELS);
  let row = 0;
  for (let top = 0; top < full.height; top += STRIP) {
    const count = Math.min(STRIP, full.height - top);
    const strip = full.rows(top, count);
    for (let index = 0; index < count; index += 1) {
      const y = top + index;
      const line = strip.subarray(index * full.width * CHANNELS, (index + 1) * full.width * CHANNELS);
      // A row on the border of two areas counts for both, by its parts.
      let from = y;
      while (row < height) {
        const end = row + 1 === height ? full.height : (row + 1) * tall;
        addLine(sums, line, Math.min(end, y + 1) - from);
        if (end > y + 1) break;
        writeRow(data, row, width, sums, edges, wide * tall);
        sums.fill(0);
        row += 1;
        from = end;
        if (end >= y + 1) break;
      }
    }
    hear((top + count) / full.height);
  }
  return { width, height, data };
}

function addLine(sums: Float64Array, line: Uint8ClampedArray | Uint8Array, share: number): void {
  if (share === 1) for (let at = 0; at < sums.length; at += 1) sums[at]! += line[at]!;
  else for (let at = 0; at < sums.length; at += 1) sums[at]! += share * line[at]!;
}

function writeRow(data: Uint8ClampedArray, row: number, width: number, sums: Float64Array, edges: readonly number[], area: number): void {
  const last = sums.length / CHANNELS - 1;
  for (let x = 0; x < width; x += 1) {
    const [left, right] = [edges[x]!, edges[x + 1]!];
    let [red, green, blue] = [0, 0, 0];
    for (let from = Math.floor(left); from < right && from <= last; from += 1) {
      const share = Math.min(from + 1, right) - Math.max(from, left);
      red += share * sums[from * CHANNELS]!;
      green += share * sums[from * CHANNELS + 1]!;
      blue += share * sums[from * CHANNELS + 2]!;
    }
    const to = (row * width + x) * CHANNELS;
    data[to] = Math.floor(red / area + 0.5);
    data[to + 1] = Math.floor(green / area + 0.5);
    data[to + 2] = Math.floor(blue / area + 0.5);
  }
}
