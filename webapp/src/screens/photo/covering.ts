// Boxes drawn over a photo: what is painted out, and what is left when the rest is cut away; all in fractions of its edges.
import { at, type At } from "./spots.ts";

export interface Box { x: number; y: number; width: number; height: number }

/** A finger's twitch is no box. */
const LEAST = 0.01;
/** Less than this on an edge is no photo any more. */
export const LEAST_KEPT_PX = 64;

/** The box between two opposite corners; null where it is too small to be meant. */
export function boxBetween(a: At, b: At): Box | null {
  const [x, y] = [Math.min(a.x, b.x), Math.min(a.y, b.y)];
  const [width, height] = [Math.abs(a.x - b.x), Math.abs(a.y - b.y)];
  return width < LEAST || height < LEAST ? null : { x, y, width, height };
}

/** Whole pixels that hold the box, none of its edges left out. */
export function inPixels(box: Box, width: number, height: number): { left: number; top: number; width: number; height: number } {
  const [left, top] = [Math.floor(box.x * width), Math.floor(box.y * height)];
  return { left, top, width: Math.min(width, Math.ceil((box.x + box.width) * width)) - left, height: Math.min(height, Math.ceil((box.y + box.height) * height)) - top };
}

/** Where a marked spot is once only the box is left; null where it was cut away. */
export function spotWithin(spot: At, box: Box): At | null {
  const [x, y] = [(spot.x - box.x) / box.width, (spot.y - box.y) / box.height];
  return x < 0 || x > 1 || y < 0 || y > 1 ? null : at(x, y);
}
