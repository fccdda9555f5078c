// Bright points in one photo of a dark room, and whether the photo can be judged: the whole way from pixels to candidates.
//
// A point is a candidate for a light leak: one photo cannot tell a pinhole from a highlight on metal. Nothing found means
// nothing brighter than the photo's own limit. Constants were tuned on rendered pictures only.

import type { FullPicture } from "./leak_doubts.ts";
import { Levels, type Pixels } from "./leak_filters.ts";
import { type LeakConstants, type Maps, mapsOf } from "./leak_maps.ts";
import { allParallel, type Candidate, candidatesOf, isStreak } from "./leak_points.ts";
import { type Sharpness, sharpnessOf } from "./leak_sharpness.ts";
import { halfAway } from "./rounding.ts";

export type LeakReason = "black" | "too_much_light" | "moved" | "blurred";

/** A bright place, in pixels of the upright full picture. */
export interface LeakPoint {
  readonly x: number;
  readonly y: number;
  /** x0, y0, x1, y1 */
  readonly box: readonly [number, number, number, number];
  readonly kind: "spot" | "streak";
  /** Contrast over the local noise. */
  readonly strength: number;
  /** Over the surroundings, sRGB levels 0-255. */
  readonly peak_code: number;
}

/** What a photo says. The same JSON comes from the server. */
export interface LeakResult {
  readonly usable: boolean;
  readonly reasons: readonly LeakReason[];
  readonly sharpness: Sharpness;
  /** Strongest first. */
  readonly points: readonly LeakPoint[];
  /** About the faintest point that could have been marked, in levels over its surroundings; null where none could. */
  readonly limit_code: number | null;
  readonly algorithm: string;
}

/** Every how many pixels the noise is asked for its middle. */
const NOISE_EVERY = 16;

/** The candidates of an upright photo: `working` is the full picture, area-averaged to the working size. */
export function findIn(working: Pixels, full: FullPicture, constants: LeakConstants): LeakResult {
  const maps = mapsOf(working, constants);
  if (isBright(maps, constants.light)) return result(["too_much_light"], "cannot_tell", [], null, constants);
  const { kept, bar } = candidatesOf(maps, full, constants);
  if (isBlack(maps, kept.length > 0, constants.light)) return result(["black"], "cannot_tell", [], null, constants);
  const sharpness = sharpnessIn(kept, maps, constants);
  const limit = Math.min(255, Math.max(constants.score.least_code, bar * middleNoise(maps)));
  const points = kept.map((one) => pointOf(one, full.width / working.width, full.height / working.height, constants.streak));
  return result(sharpness === "moved" || sharpness === "blurred" ? [sharpness] : [], sharpness, points, limit, constants);
}

/** Too much light to look for anything: from the lamp or the room, which cannot be told apart well. */
export function isBright({ luma }: Maps, constants: LeakConstants["light"]): boolean {
  const levels = new Levels(constants.steps_per_code, 255);
  levels.addAll(luma.values);
  return levels.rank(constants.bright_share) > constants.bright_code;
}

/** Nothing to judge by: no surface shows, and nothing at all or only the camera's own hot pixels. */
export function isBlack({ surfaceCode, brightest }: Maps, anyFound: boolean, constants: LeakConstants["light"]): boolean {
  return surfaceCode < constants.black_code && (!anyFound || brightest < constants.black_code);
}

function sharpnessIn(found: readonly Candidate[], maps: Maps, constants: LeakConstants): Sharpness {
  const { proof } = constants.sharpness;
  if (allParallel(found.map(({ piece }) => piece), constants)) return "moved";
  // A small sharp point proves the focus better than any edge.
  const proves = ({ piece, score, spread }: Candidate) =>
    piece.width <= proof.width && piece.length <= proof.length && score >= proof.score && spread < proof.spread;
  return found.some(proves) ? "sharp" : sharpnessOf(maps.luma, constants);
}

function middleNoise(maps: Maps): number {
  const { width, height } = maps.luma;
  const found: number[] = [];
  for (let y = 0; y < height; y += NOISE_EVERY) for (let x = 0; x < width; x += NOISE_EVERY) found.push(maps.noise(x, y));
  const sorted = Float32Array.from(found).sort();
  return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
}

/** In pixels of the photo: a pixel's middle lies half a pixel in. */
function pointOf({ piece, score }: Candidate, across: number, down: number, streak: LeakConstants["streak"]): LeakPoint {
  const [x0, y0, x1, y1] = piece.box;
  return {
    x: halfAway((piece.x + 0.5) * across - 0.5, 2),
    y: halfAway((piece.y + 0.5) * down - 0.5, 2),
    box: [Math.round(x0 * across), Math.round(y0 * down), Math.round((x1 + 1) * across) - 1, Math.round((y1 + 1) * down) - 1],
    kind: isStreak(piece, streak) ? "streak" : "spot",
    strength: halfAway(score, 1),
    peak_code: halfAway(piece.peakCode, 1),
  };
}

function result(reasons: LeakReason[], sharpness: Sharpness, points: LeakPoint[], limit: number | null, constants: LeakConstants): LeakResult {
  return { usable: !reasons.length, reasons, sharpness, points, limit_code: limit === null ? null : halfAway(limit, 1), algorithm: constants.algorithm };
}
