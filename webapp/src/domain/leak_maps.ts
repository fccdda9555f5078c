// What each pixel of a dark picture is held against: its background, the surfaces nearby, the noise, the lamp's own glow (steps 1-4).

import type leakData from "@catalogue/leaks.json";
import { blockMeans, boxMean, enlargedAt, largest, Levels, lessEnlarged, luma, type Pixels, type Plane, planeOf, smoothed, steppedMedian, surfaceCeiling } from "./leak_filters.ts";

/** The catalogue's `leaks`. */
export type LeakConstants = typeof leakData;

/** Maps of the working picture in codes. */
export interface Maps {
  readonly luma: Plane;
  /** Over the background. */
  readonly contrast: Plane;
  /** Of the smoothed picture. */
  readonly brightest: number;
  /** Of the brightest surface of all. */
  readonly surfaceCode: number;
  /** Long edge against that of the working size, at most 1. */
  readonly scale: number;
  background(x: number, y: number): number;
  /** Over the brightest surface nearby. */
  excess(x: number, y: number): number;
  noise(x: number, y: number): number;
  nearGlow(x: number, y: number): boolean;
}

export function mapsOf(pixels: Pixels, constants: LeakConstants): Maps {
  const { block, background, ceiling, working } = constants;
  const level = luma(pixels, constants.luma);
  const { width, height } = level;
  const scale = Math.max(width, height) / working.long_edge;
  const blocks = blockMeans(level, block);
  const ground = steppedMedian(blocks, background.median_blocks, background.steps_per_code);
  const surfaces = surfaceCeiling(blocks, ceiling.hold_blocks, ceiling.reach_blocks);
  const smooth = smoothed(level);
  const contrast = lessEnlarged(smooth, ground, block);
  const glow = glowMask(blocks, scale, block, constants.glow);
  const nearGlow = (x: number, y: number) => glow.values[Math.floor(y / block) * glow.width + Math.floor(x / block)] === 1;
  const tiles = noiseTiles(level, smooth, glow, block, constants.noise);
  let brightest = 0;
  for (let index = 0; index < smooth.values.length; index += 1) if (smooth.values[index]! > brightest) brightest = smooth.values[index]!;
  return {
    luma: level,
    contrast,
    brightest,
    surfaceCode: surfaces.values.reduce((most, value) => Math.max(most, value), 0),
    scale,
    background: (x, y) => enlargedAt(ground, block, x, y),
    excess: (x, y) => smooth.values[y * width + x]! - enlargedAt(surfaces, block, x, y),
    noise: (x, y) => betweenTiles(tiles, width, height, x, y),
    nearGlow,
  };
}

/** Blocks in or near the lamp's opening, 1 or 0: large saturated pieces, grown. */
export function glowMask(blocks: Plane, scale: number, block: number, constants: LeakConstants["glow"]): Plane {
  const { width, height } = blocks;
  const side = constants.open_blocks;
  const opened = new Uint8Array(width * height);
  for (let y = 0; y + side <= height; y += 1) {
    for (let x = 0; x + side <= width; x += 1) {
      if (allBright(blocks, x, y, side, constants.code)) for (let row = y; row < y + side; row += 1) opened.fill(1, row * width + x, row * width + x + side);
    }
  }
  const mask = planeOf(width, height);
  const take = (at: number) => opened[at] === 1 && (opened[at] = 2) === 2;
  for (let start = 0; start < opened.length; start += 1) {
    if (!take(start)) continue;
    const piece = joined(start, width, height, take);
    if (piece.length * block * block >= constants.least_area * scale * scale) for (const at of piece) mask.values[at] = 1;
  }
  return largest(mask, 2 * constants.grow_blocks + 1);
}

/** Indices of all pixels joined to `start`, over corners too; `take` says yes once to each that belongs, and has said so to `start`. */
export function joined(start: number, width: number, height: number, take: (at: number) => boolean): number[] {
  const found = [start];
  for (let next = 0; next < found.length; next += 1) {
    const x = found[next]! % width;
    const y = (found[next]! - x) / width;
    for (let row = Math.max(0, y - 1); row <= Math.min(height - 1, y + 1); row += 1) {
      for (let column = Math.max(0, x - 1); column <= Math.min(width - 1, x + 1); column += 1) {
        const at = row * width + column;
        if (take(at)) found.push(at);
      }
    }
  }
  return found;
}

/**
 * Noise in codes of each tile: the spread of fine detail.
 *
 * The upper tail counts too: the middle alone is blind to worn ridges. A tile within the glow takes its nearest neighbour's.
 */
function noiseTiles(level: Plane, smooth: Plane, glow: Plane, block: number, constants: LeakConstants["noise"]): Plane {
  const { width, height } = level;
  const { every, tile } = constants;
  const mean = boxMean(level, constants.box);
  const tiles = planeOf(Math.max(1, Math.floor(width / tile + 0.5)), Math.max(1, Math.floor(height / tile + 0.5)));
  const levels = new Levels(constants.steps_per_code, constants.most_code);
  const [wide, tall] = [Math.ceil(width / every), Math.ceil(height / every)];
  const fine = new Float32Array(Math.ceil(wide / tiles.width) * Math.ceil(tall / tiles.height));
  for (let row = 0; row < tiles.height; row += 1) {
    for (let column = 0; column < tiles.width; column += 1) {
      let count = 0;
      const [left, right] = [edge(column, wide, tiles.width) * every, edge(column + 1, wide, tiles.width) * every];
      for (let y = edge(row, tall, tiles.height) * every; y < edge(row + 1, tall, tiles.height) * every; y += every) {
        const glowRow = Math.floor(y / block) * glow.width;
        for (let x = left; x < right; x += every) {
          if (glow.values[glowRow + Math.floor(x / block)] === 0) fine[count++] = smooth.values[y * width + x]! - mean.values[y * width + x]!;
        }
      }
      levels.clear();
      levels.addAll(fine.subarray(0, count));
      tiles.values[row * tiles.width + column] = levels.count ? spreadOf(levels, constants) : NaN;
    }
  }
  return filled(tiles, constants.least_code);
}

function spreadOf(levels: Levels, constants: LeakConstants["noise"]): number {
  const [low, middle, high, upper] = [0.25, 0.5, 0.75, 0.9].map((share) => levels.rank(share)) as [number, number, number, number];
  const spread = Math.max((high - low) / constants.half_z, (upper - middle) / constants.upper_z);
  return Math.max(constants.least_code, constants.factor * spread);
}

function filled(tiles: Plane, leastCode: number): Plane {
  const known = Array.from(tiles.values.keys()).filter((at) => !Number.isNaN(tiles.values[at]!));
  const values = tiles.values.map((value, at) => {
    if (!Number.isNaN(value)) return value;
    const far = (other: number) => ((other % tiles.width) - (at % tiles.width)) ** 2 + (Math.floor(other / tiles.width) - Math.floor(at / tiles.width)) ** 2;
    return known.length ? tiles.values[known.reduce((best, other) => (far(other) < far(best) ? other : best))]! : leastCode;
  });
  return { ...tiles, values };
}

function betweenTiles(tiles: Plane, width: number, height: number, x: number, y: number): number {
  const across = Math.min(Math.max(((x + 0.5) * tiles.width) / width - 0.5, 0), tiles.width - 1);
  const down = Math.min(Math.max(((y + 0.5) * tiles.height) / height - 0.5, 0), tiles.height - 1);
  // A block of one px about the place asked for: the same straight lines between centres.
  return enlargedAt(tiles, 1, across, down);
}

function allBright(blocks: Plane, x: number, y: number, side: number, code: number): boolean {
  for (let row = y; row < y + side; row += 1) {
    for (let column = x; column < x + side; column += 1) if (blocks.values[row * blocks.width + column]! < code) return false;
  }
  return true;
}

/** Where tile number `index` of `count` begins, of `size` px. */
function edge(index: number, size: number, count: number): number {
  return Math.floor((index * size) / count);
}
