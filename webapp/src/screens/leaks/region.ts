// The drawn part of a photo: a finger's line with as few corners as keep its shape, or a rectangle from two corners.
import type { At } from "../../domain/leak_reading.ts";

/** Shares of the picture: nearer than this to the straight way a corner says nothing; a smaller part was a slip of the finger. */
const STRAIGHT = 0.012, LEAST_SIDE = 0.04;
/** As many as the record takes. */
const MOST_CORNERS = 60;

export function cornersOf(one: At, other: At): At[] {
  return [one, { x: other.x, y: one.y }, other, { x: one.x, y: other.y }];
}

/** The line as a closed part; null when it is too small to be meant. */
export function simplified(line: readonly At[]): At[] | null {
  const side = (of: (at: At) => number) => Math.max(...line.map(of)) - Math.min(...line.map(of));
  if (line.length < 3 || side(({ x }) => x) < LEAST_SIDE || side(({ y }) => y) < LEAST_SIDE) return null;
  let kept = thinned(line, STRAIGHT);
  for (let coarser = STRAIGHT * 2; kept.length > MOST_CORNERS; coarser *= 2) kept = thinned(line, coarser);
  return kept.length >= 3 ? kept : null;
}

/** Corners that lie farther than `within` from the straight way between their neighbours (Ramer 1972, Douglas and Peucker 1973). */
function thinned(line: readonly At[], within: number): At[] {
  const [first, last] = [line[0]!, line.at(-1)!];
  let [most, where] = [0, 0];
  for (let index = 1; index < line.length - 1; index += 1) {
    const off = offWay(line[index]!, first, last);
    if (off > most) [most, where] = [off, index];
  }
  if (most <= within) return line.length > 1 ? [first, last] : [first];
  return [...thinned(line.slice(0, where + 1), within).slice(0, -1), ...thinned(line.slice(where), within)];
}

function offWay(at: At, first: At, last: At): number {
  const [dx, dy] = [last.x - first.x, last.y - first.y];
  const long = Math.hypot(dx, dy);
  return long < 1e-9 ? Math.hypot(at.x - first.x, at.y - first.y) : Math.abs(dx * (first.y - at.y) - dy * (first.x - at.x)) / long;
}
