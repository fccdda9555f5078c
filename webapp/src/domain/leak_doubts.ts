// What makes a bright piece no leak: the lamp's glow, a hot pixel of the camera, a fold or edge that runs on (step 6).

import { CHANNELS, luma, type Pixels } from "./leak_filters.ts";
import type { LeakConstants, Maps } from "./leak_maps.ts";
import type { Piece } from "./leak_pieces.ts";

/** The full picture, of which only small parts are asked for. */
export interface FullPicture {
  readonly width: number;
  readonly height: number;
  /** The square of `side` px that starts at left, top; beyond the edges the last pixel is repeated. */
  cutout(left: number, top: number, side: number): Pixels;
}

/** How the light lies at a peak in the full picture. */
export interface Spot {
  /** Mean of the eight neighbours over the brightest pixel, both above the background. */
  readonly spread: number;
  /** Middle over largest of the three colours' sums. */
  readonly colour: number;
}

/** Too large for a hole, or at the edge of the lamp's own glow. */
export function isGlow(piece: Piece, maps: Maps, constants: LeakConstants): boolean {
  const limits = constants.large;
  return (
    piece.coreArea > limits.core_area * maps.scale * maps.scale ||
    piece.length > limits.length ||
    piece.width > limits.width ||
    piece.pieceArea > limits.piece_area ||
    maps.nearGlow(piece.peakX, piece.peakY)
  );
}

/** The spot in the full picture, which may be the working picture itself. */
export function spotOf(piece: Piece, maps: Maps, full: FullPicture, constants: LeakConstants): Spot {
  const { search, level_half: levelHalf } = constants.hot;
  const x = Math.min(Math.floor(((piece.peakX + 0.5) * full.width) / maps.luma.width), full.width - 1);
  const y = Math.min(Math.floor(((piece.peakY + 0.5) * full.height) / maps.luma.height), full.height - 1);
  const reach = search + 1 + levelHalf;
  return spotIn(full.cutout(x - reach, y - reach, 2 * reach + 1), maps.background(piece.peakX, piece.peakY), constants);
}

/** The spot of a square cutout around a peak whose background is given in codes. */
export function spotIn(cutout: Pixels, background: number, constants: LeakConstants): Spot {
  const limits = constants.hot;
  const side = cutout.width;
  const level = luma(cutout, constants.luma).values.map((value) => value - background);
  const middle = side >> 1;
  let best = (middle - limits.search) * side + middle - limits.search;
  for (let y = middle - limits.search; y <= middle + limits.search; y += 1) {
    for (let x = middle - limits.search; x <= middle + limits.search; x += 1) if (level[y * side + x]! > level[best]!) best = y * side + x;
  }
  let around = -level[best]!;
  for (let row = -1; row <= 1; row += 1) for (let column = -1; column <= 1; column += 1) around += level[best + row * side + column]!;
  return { spread: level[best]! > 0 ? around / 8 / level[best]! : 0, colour: colourOf(cutout, best, limits) };
}

function colourOf(cutout: Pixels, at: number, limits: LeakConstants["hot"]): number {
  const [, middle, largest] = [0, 1, 2]
    .map((channel) => {
      const surroundings = squareOf(cutout, at, limits.level_half, channel).sort();
      const ground = surroundings[surroundings.length >> 1]!;
      return squareOf(cutout, at, limits.colour_half, channel).reduce((sum, value) => sum + value - ground, 0);
    })
    .sort((a, b) => a - b) as [number, number, number];
  return largest > 0 ? Math.max(middle, 0) / largest : 0;
}

function squareOf(cutout: Pixels, at: number, half: number, channel: number): Float64Array {
  const side = 2 * half + 1;
  const out = new Float64Array(side * side);
  for (let row = 0; row < side; row += 1) {
    for (let column = 0; column < side; column += 1) {
      out[row * side + column] = cutout.data[(at + (row - half) * cutout.width + column - half) * CHANNELS + channel]!;
    }
  }
  return out;
}

/** The camera's own: a single pixel, or one colour alone. */
export function isHotPixel(piece: Piece, spot: Spot, constants: LeakConstants): boolean {
  const limits = constants.hot;
  return (
    spot.spread < limits.least_spread ||
    (spot.spread < limits.doubtful_spread && spot.colour < limits.doubtful_colour) ||
    (spot.colour < limits.least_colour && piece.length < limits.colour_length)
  );
}

/** A fold or an edge: in some direction the brightness goes on beyond the piece. */
export function runsOn(piece: Piece, maps: Maps, constants: LeakConstants): boolean {
  const limits = constants.lines;
  const { width, height, values } = maps.contrast;
  const turns = Array.from({ length: 360 / limits.every_deg }, (_, index) => (index * limits.every_deg * Math.PI) / 180);
  return [...turns, piece.angle, piece.angle + Math.PI].some((turn) => {
    const start = edgeOf(piece, turn) + limits.start;
    const ray = Array.from({ length: limits.samples }, (_, index) => {
      const far = start + limits.step * index;
      const x = Math.floor(piece.x + far * Math.cos(turn) + 0.5);
      const y = Math.floor(piece.y + far * Math.sin(turn) + 0.5);
      const inside = x >= 0 && x < width && y >= 0 && y < height;
      return inside ? Math.min(Math.max(values[y * width + x]!, 0), piece.peakCode) : 0;
    });
    const kept = ray.sort((a, b) => a - b).slice(limits.drop, -limits.drop);
    return kept.reduce((sum, value) => sum + value, 0) / kept.length > limits.most * piece.peakCode;
  });
}

/** From the centre of the piece to its edge, taken as an ellipse. */
function edgeOf(piece: Piece, turn: number): number {
  const [a, b] = [piece.length / 2, piece.width / 2];
  return (a * b) / Math.hypot(b * Math.cos(turn - piece.angle), a * Math.sin(turn - piece.angle));
}

/** A picture that is held whole, as one of which parts are asked for. */
export function wholePicture(pixels: Pixels): FullPicture {
  const { width, height, data } = pixels;
  const cutout = (left: number, top: number, side: number): Pixels => {
    const out = new Uint8ClampedArray(side * side * CHANNELS);
    for (let row = 0; row < side; row += 1) {
      const start = Math.min(Math.max(top + row, 0), height - 1) * width;
      for (let column = 0; column < side; column += 1) {
        const from = (start + Math.min(Math.max(left + column, 0), width - 1)) * CHANNELS;
        for (let channel = 0; channel < CHANNELS; channel += 1) out[(row * side + column) * CHANNELS + channel] = data[from + channel]!;
      }
    }
    return { width: side, height: side, data: out };
  };
  return { width, height, cutout };
}
