// Four taps on a photo, two on the ruler and two on the pupil: where they are, and how surely a finger put them there.

export interface Tap {
  /** In pixels of the picture. */
  readonly x: number;
  readonly y: number;
  /** One standard uncertainty of the tap, in pixels of the picture. */
  readonly u_px: number;
}

export const NAMES = ["Ruler, one end", "Ruler, other end", "Hole, one edge", "Hole, other edge"] as const;

/** A finger or pointer hits a line within this, in pixels of the screen (one standard uncertainty); common practice, no source. */
const HIT_PX = 2;
const LEAST_U_PX = 1;

/** A tap at a place of the screen, over a picture `shownWidth` wide there and `width` wide in truth. */
export function tapAt(x: number, y: number, shownWidth: number, width: number): Tap {
  const scale = width / shownWidth;
  return { x: x * scale, y: y * scale, u_px: Math.max(LEAST_U_PX, HIT_PX * scale) };
}

const STEPS: Readonly<Record<string, readonly [number, number]>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** The tap moved by an arrow key, one step or ten with shift; null for another key. A step is a pixel of the screen. */
export function nudged(tap: Tap, key: string, far: boolean, stepPx: number): Tap | null {
  const step = STEPS[key];
  if (!step) return null;
  const by = stepPx * (far ? 10 : 1);
  return { ...tap, x: tap.x + step[0] * by, y: tap.y + step[1] * by };
}
