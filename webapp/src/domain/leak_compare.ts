// Two photos of the same piece, one with the lamp off or after the phone moved: which bright places are the lamp's light.
//
// With the lamp off a leak goes, while reflections of the room and the camera's hot pixels stay. When the phone moves, a leak moves
// with the piece, a hot pixel stays in the frame, a reflection does neither. Arithmetic only: not measured on photos.

import type { At } from "./leak_reading.ts";
import { halfAway } from "./rounding.ts";

export type SecondPhoto = "lamp_off" | "moved";
export type Settled = "gone" | "stays" | "follows" | "stays_in_frame" | "not_seen_again" | "cannot_tell";

/** Points in px of their photo. */
export interface PhotoPoints { readonly width: number; readonly height: number; readonly points: readonly At[] }

export interface SettledPoint {
  readonly said: Settled;
  /** Where it is in the second photo, shares of width and height. */
  readonly at: At | null;
}

// Shares of the long edge: a place seen again where it was, the phone held still; a hot pixel, which does not move at all;
// what a hand's turn and a folded surface leave; the least movement that tells anything.
const STILL = 0.006, FRAME = 0.0015, TOGETHER = 0.015, LEAST_MOVE = 0.02;
const [LEAST_SCALE, MOST_SCALE] = [0.8, 1.25];
const MOST_TURN = (25 * Math.PI) / 180;

/** The turn and scale (a, b) and shift that carry one photo's points to the other's. */
interface Motion { readonly a: number; readonly b: number; readonly dx: number; readonly dy: number }

/**
 * What the second photo says of each point of the first, in their order: "gone" or "stays" for a lamp turned off; for a moved
 * phone "follows", "stays_in_frame", "not_seen_again", or "cannot_tell" where no common movement of two points is found. Throws
 * RangeError for another word.
 */
export function settle(first: PhotoPoints, second: PhotoPoints, how: SecondPhoto): SettledPoint[] {
  const [ones, others] = [placed(first), placed(second)];
  if (how === "lamp_off") {
    return ones.map((one) => {
      const index = nearest(one, others, STILL);
      return answer(index === null ? "gone" : "stays", index, second);
    });
  }
  if (how !== "moved") throw new RangeError(`"${String(how)}" is no way of taking a second photo.`);
  const motion = motionOf(ones, others);
  return ones.map((one) => answer(...movedPoint(one, others, motion), second));
}

function movedPoint(one: At, others: readonly At[], motion: Motion | null): [Settled, number | null] {
  const inFrame = nearest(one, others, FRAME);
  if (!motion) return inFrame !== null && others.length === 1 ? ["stays_in_frame", inFrame] : ["cannot_tell", null];
  const expected = carried(one, motion);
  const there = nearest(expected, others, TOGETHER);
  if (inFrame !== null && far(one, expected) > TOGETHER) return ["stays_in_frame", inFrame];
  return there === null ? ["not_seen_again", null] : ["follows", there];
}

/** The movement that carries most points over, at least two; null if there is none that is large enough. */
function motionOf(ones: readonly At[], others: readonly At[]): Motion | null {
  let best: Motion | null = null;
  let [mostHits, leastSum] = [1, 0];
  for (const [i, one] of ones.entries()) {
    for (const two of ones.slice(i + 1)) {
      if (far(one, two) < LEAST_MOVE) continue;
      for (const first of others) {
        for (const last of others) {
          const motion = first === last ? null : carry(one, two, first, last);
          if (!motion || Math.max(...ones.map((at) => far(at, carried(at, motion)))) < LEAST_MOVE) continue;
          const hits = ones.map((at) => Math.min(...others.map((other) => far(carried(at, motion), other)))).filter((off) => off <= TOGETHER);
          const sum = hits.reduce((all, off) => all + off, 0);
          if (hits.length > mostHits || (hits.length === mostHits && sum < leastSum)) [best, mostHits, leastSum] = [motion, hits.length, sum];
        }
      }
    }
  }
  return best;
}

/** The movement that carries `one` to `first` and `two` to `last`, if a hand could have made it. */
function carry(one: At, two: At, first: At, last: At): Motion | null {
  const [ux, uy, vx, vy] = [two.x - one.x, two.y - one.y, last.x - first.x, last.y - first.y];
  const square = ux * ux + uy * uy;
  const [a, b] = [(ux * vx + uy * vy) / square, (ux * vy - uy * vx) / square];
  const scale = Math.hypot(a, b);
  if (scale < LEAST_SCALE || scale > MOST_SCALE || Math.abs(Math.atan2(b, a)) > MOST_TURN) return null;
  return { a, b, dx: first.x - (a * one.x - b * one.y), dy: first.y - (b * one.x + a * one.y) };
}

function carried({ x, y }: At, { a, b, dx, dy }: Motion): At {
  return { x: a * x - b * y + dx, y: b * x + a * y + dy };
}

/** In shares of the long edge, so that a circle stays one. */
function placed({ width, height, points }: PhotoPoints): At[] {
  const longest = Math.max(width, height);
  return points.map(({ x, y }) => ({ x: (x + 0.5) / longest, y: (y + 0.5) / longest }));
}

function nearest(at: At, others: readonly At[], within: number): number | null {
  let best: number | null = null;
  for (const [index, other] of others.entries()) if (best === null || far(at, other) < far(at, others[best]!)) best = index;
  return best !== null && far(at, others[best]!) <= within ? best : null;
}

function far(one: At, other: At): number {
  return Math.hypot(one.x - other.x, one.y - other.y);
}

function answer(said: Settled, index: number | null, { width, height, points }: PhotoPoints): SettledPoint {
  if (index === null) return { said, at: null };
  const { x, y } = points[index]!;
  return { said, at: { x: halfAway((x + 0.5) / width, 4), y: halfAway((y + 0.5) / height, 4) } };
}
