// Marked spots on a photo: positions as fractions, kept inside the picture, moved by keys or by finger.

/** Fractions of width and height from the top left. */
export interface At { x: number; y: number }

const inside = (value: number): number => Math.min(1, Math.max(0, value));
/** Three digits are finer than a pixel on a phone and keep records short. */
const short = (value: number): number => Math.round(value * 1000) / 1000;

export function at(x: number, y: number): At {
  return { x: short(inside(x)), y: short(inside(y)) };
}

/** The spot under a finger, from page coordinates and the picture's box. */
export function atPoint(clientX: number, clientY: number, box: { left: number; top: number; width: number; height: number }): At {
  return at((clientX - box.left) / box.width, (clientY - box.top) / box.height);
}

const STEPS: Record<string, readonly [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const FINE = 0.02;
const COARSE = 0.1;

/** Where the cross goes for a key; null when the key does not move it. Shift makes larger steps. */
export function moved(from: At, key: string, shift: boolean): At | null {
  const step = STEPS[key];
  if (!step) return null;
  const size = shift ? COARSE : FINE;
  return at(from.x + step[0] * size, from.y + step[1] * size);
}

/** The ninth of the picture a spot lies in, as people say it. */
export function spotWords({ x, y }: At): string {
  const across = x < 1 / 3 ? "left" : x > 2 / 3 ? "right" : null;
  const down = y < 1 / 3 ? "top" : y > 2 / 3 ? "bottom" : null;
  if (down && across) return `${down} ${across}`;
  if (down) return `at the ${down}`;
  return across ? `on the ${across}` : "in the middle";
}
