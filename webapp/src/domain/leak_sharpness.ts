// Whether a dark picture is sharp enough to be judged: edges fine against coarse, in eight directions (step 9).

import { blockMeans, convolved, gaussian, largest, Levels, type Plane } from "./leak_filters.ts";
import type { LeakConstants } from "./leak_maps.ts";

export type Sharpness = "sharp" | "moved" | "blurred" | "cannot_tell";

/** Of the brightness (codes) of the working picture; "cannot_tell" where it has no edges to judge by. */
export function sharpnessOf(level: Plane, constants: LeakConstants): Sharpness {
  const limits = constants.sharpness;
  const halved = Math.max(level.width, level.height) > limits.halve_above ? blockMeans(level, 2) : level;
  const bright = { ...halved, values: halved.values.map((value) => (value >= limits.glow_code ? 1 : 0)) };
  const grown = largest(bright, 2 * Math.floor((limits.grow_px * halved.height) / level.height + 0.5) + 1);
  const outside = darkPlaces(grown);
  if (!outside.length) return "cannot_tell";
  const [fine, coarse] = [limits.fine_px, limits.coarse_px].map((sigma) => slopesOf(convolved(halved, gaussian(sigma)))) as [Slopes, Slopes];
  const levels = new Levels(limits.steps_per_code, limits.most_code);
  const ratios: number[] = [];
  for (let index = 0; index < limits.directions; index += 1) {
    const turn = (Math.PI * index) / limits.directions;
    count(levels, coarse, turn, outside);
    const edge = levels.rank(limits.share);
    count(levels, fine, turn, outside);
    const grain = (limits.noise_z * levels.rank(0.5)) / 0.6745;
    // A sharp edge that weak would drown in the noise as well.
    if (edge < limits.least_edge || grain > limits.most_grain * edge) return "cannot_tell";
    ratios.push(Math.sqrt(Math.max(0, levels.rank(limits.share) ** 2 - grain ** 2)) / edge);
  }
  const [least, most] = [Math.min(...ratios), Math.max(...ratios)];
  if (most < limits.blurred_below) return "blurred";
  return least < limits.moved_below && least < limits.moved_share * most ? "moved" : "sharp";
}

/** Indices of the pixels that are 0. */
function darkPlaces({ values }: Plane): Int32Array {
  const found = new Int32Array(values.length);
  let count = 0;
  for (let at = 0; at < values.length; at += 1) if (values[at] === 0) found[count++] = at;
  return found.subarray(0, count);
}

interface Slopes {
  readonly across: Float32Array;
  readonly down: Float32Array;
}

/** Change in codes a pixel across and down, from both neighbours; half of it at the edges. */
function slopesOf({ width, height, values }: Plane): Slopes {
  const [across, down] = [new Float32Array(values.length), new Float32Array(values.length)];
  for (let y = 0, at = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1, at += 1) {
      across[at] = (values[x + 1 < width ? at + 1 : at]! - values[x > 0 ? at - 1 : at]!) / 2;
      down[at] = (values[y + 1 < height ? at + width : at]! - values[y > 0 ? at - width : at]!) / 2;
    }
  }
  return { across, down };
}

function count(levels: Levels, { across, down }: Slopes, turn: number, outside: Int32Array): void {
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const along = new Float32Array(outside.length);
  for (let index = 0; index < outside.length; index += 1) {
    const at = outside[index]!;
    along[index] = Math.abs(cos * across[at]! + sin * down[at]!);
  }
  levels.clear();
  levels.addAll(along);
}
