// Bright pieces of a dark picture: pixels that stand out, joined, each with its core and shape (step 5).

import { joined, type LeakConstants, type Maps } from "./leak_maps.ts";

/** First and last column and row: x0, y0, x1, y1. */
export type Box = readonly [number, number, number, number];

/** One bright piece; px of the working picture, pixel centres at whole numbers. */
export interface Piece {
  /** Centre, weighted by contrast. */
  readonly x: number;
  readonly y: number;
  /** Of the core. */
  readonly box: Box;
  readonly length: number;
  readonly width: number;
  /** Of the length, radians, y down. */
  readonly angle: number;
  readonly coreArea: number;
  readonly pieceArea: number;
  readonly peakX: number;
  readonly peakY: number;
  /** Contrast at the peak. */
  readonly peakCode: number;
}

/** Pieces that hold a seed, in order of their first seed. */
export function piecesOf(maps: Maps, constants: LeakConstants): Piece[] {
  const limits = constants.hysteresis;
  const { width, height, values } = maps.contrast;
  const seen = new Uint8Array(values.length);
  const stands = (at: number, x: number, times: number) => values[at]! >= times * maps.noise(x, (at - x) / width);
  const take = (at: number) => {
    if (seen[at] || values[at]! < limits.low_code || !stands(at, at % width, limits.low_noise)) return false;
    seen[at] = 1;
    return true;
  };
  const found: Piece[] = [];
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const at = y * width + x;
      if (seen[at] || values[at]! < limits.seed_code || maps.excess(x, y) < limits.seed_excess || !stands(at, x, limits.seed_noise)) continue;
      seen[at] = 1;
      found.push(pieceOf(joined(at, width, height, take), maps, constants.core_share));
    }
  }
  return found;
}

function pieceOf(all: readonly number[], maps: Maps, coreShare: number): Piece {
  const { width, height, values } = maps.contrast;
  const peak = all.reduce((best, at) => (values[at]! > values[best]! || (values[at] === values[best] && at < best) ? at : best));
  const least = Math.fround(coreShare * values[peak]!);
  const bright = new Set(all.filter((at) => values[at]! >= least));
  bright.delete(peak);
  const core = joined(peak, width, height, (at) => bright.delete(at));
  let [total, sumX, sumY] = [0, 0, 0];
  let [x0, y0, x1, y1] = [width, height, 0, 0];
  for (const at of core) {
    const [x, y, weight] = [at % width, Math.floor(at / width), values[at]!];
    total += weight;
    sumX += weight * x;
    sumY += weight * y;
    [x0, y0, x1, y1] = [Math.min(x0, x), Math.min(y0, y), Math.max(x1, x), Math.max(y1, y)];
  }
  const [x, y] = [sumX / total, sumY / total];
  let [xx, yy, xy] = [0, 0, 0];
  for (const at of core) {
    const [dx, dy, weight] = [(at % width) - x, Math.floor(at / width) - y, values[at]! / total];
    xx += weight * dx * dx;
    yy += weight * dy * dy;
    xy += weight * dx * dy;
  }
  // A pixel is a square, not a point: its own spread is 1/12.
  const middle = (xx + yy) / 2 + 1 / 12;
  const half = Math.hypot((xx - yy) / 2, xy);
  return {
    x,
    y,
    box: [x0, y0, x1, y1],
    length: Math.sqrt(12 * (middle + half)),
    width: Math.sqrt(12 * Math.max(middle - half, 0)),
    angle: 0.5 * Math.atan2(2 * xy, xx - yy),
    coreArea: core.length,
    pieceArea: all.length,
    peakX: peak % width,
    peakY: Math.floor(peak / width),
    peakCode: values[peak]!,
  };
}
