// From bright pieces to the points that are shown: score, clutter, merging, spot or streak (steps 6-8).

import { type FullPicture, isGlow, isHotPixel, runsOn, spotOf } from "./leak_doubts.ts";
import type { LeakConstants, Maps } from "./leak_maps.ts";
import { type Box, type Piece, piecesOf } from "./leak_pieces.ts";

/** A piece that nothing speaks against. */
export interface Candidate {
  readonly piece: Piece;
  /** Contrast in units of the noise. */
  readonly score: number;
  /** In the full picture. */
  readonly spread: number;
}

/** Points kept, strongest first and merged, and the score they had to reach. */
export function candidatesOf(maps: Maps, full: FullPicture, constants: LeakConstants): { kept: Candidate[]; bar: number } {
  const left = piecesOf(maps, constants).flatMap((piece) => {
    if (isGlow(piece, maps, constants)) return [];
    const spot = spotOf(piece, maps, full, constants);
    const score = scoreOf(piece, maps, constants.score);
    if (isBroad(piece, score, constants.broad) || isHotPixel(piece, spot, constants) || runsOn(piece, maps, constants)) return [];
    return [{ piece, score, spread: spot.spread }];
  });
  const bar = barOf(left.map(({ score }) => score), constants.score);
  return { kept: merged(left.filter(({ piece, score }) => score >= bar && piece.peakCode >= constants.score.least_code), constants.merge_px), bar };
}

/** Contrast over the noise, or what of it stands above the surfaces nearby. */
function scoreOf({ peakX, peakY, peakCode }: Piece, maps: Maps, constants: LeakConstants["score"]): number {
  return Math.min(peakCode, constants.excess_weight * maps.excess(peakX, peakY)) / maps.noise(peakX, peakY);
}

/** A bit of table between pleats, a worn patch, a glint of the screen: light through a hole so broad would be far brighter. */
function isBroad(piece: Piece, score: number, constants: LeakConstants["broad"]): boolean {
  return piece.width > constants.width && score < constants.score;
}

/** The score a point must reach: higher where many pieces are left, for then the picture is cluttered. */
export function barOf(scores: readonly number[], constants: LeakConstants["score"]): number {
  const floor = constants.clutter_above;
  const above = scores.filter((score) => score > floor).sort((a, b) => a - b);
  if (above.length < constants.clutter_from) return constants.bar;
  const middle = (above[(above.length - 1) >> 1]! + above[above.length >> 1]!) / 2;
  return Math.max(constants.bar, floor + ((middle - floor) / Math.log(2)) * Math.log(above.length / constants.clutter_left));
}

/** Strongest first; a weaker one near a stronger one only makes its box larger. */
function merged(candidates: readonly Candidate[], withinPx: number): Candidate[] {
  const kept: Candidate[] = [];
  const sorted = candidates.toSorted((a, b) => b.score - a.score || a.piece.y - b.piece.y || a.piece.x - b.piece.x);
  for (const one of sorted) {
    const near = kept.findIndex(({ piece }) => gap(piece.box, one.piece.box) <= withinPx);
    if (near < 0) {
      kept.push(one);
      continue;
    }
    const { piece } = kept[near]!;
    const [a, b] = [piece.box, one.piece.box];
    const box: Box = [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[2], b[2]), Math.max(a[3], b[3])];
    kept[near] = { ...kept[near]!, piece: { ...piece, box } };
  }
  return kept;
}

/** Distance between two boxes, px; 0 where they meet. */
function gap(a: Box, b: Box): number {
  return Math.hypot(Math.max(0, a[0] - b[2], b[0] - a[2]), Math.max(0, a[1] - b[3], b[1] - a[3]));
}

export function isStreak({ length, width }: Piece, constants: LeakConstants["streak"]): boolean {
  return length >= constants.elongation * width && length >= constants.length;
}

/** Streaks alike in length and direction: the phone moved, and drew every point so. */
export function allParallel(pieces: readonly Piece[], { parallel, streak }: LeakConstants): boolean {
  const streaks = pieces.filter((piece) => piece.length >= parallel.length && isStreak(piece, streak));
  if (streaks.length < parallel.least || streaks.length < parallel.share * pieces.length) return false;
  const mean = (turn: (angle: number) => number) => streaks.reduce((sum, { angle }) => sum + turn(2 * angle), 0) / streaks.length;
  const lengths = streaks.map(({ length }) => length);
  return Math.hypot(mean(Math.cos), mean(Math.sin)) > parallel.agreement && Math.max(...lengths) < parallel.length_ratio * Math.min(...lengths);
}
