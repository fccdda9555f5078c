// The plot of how long wanted pieces took to turn up: the share that had, week by week, with its interval and what is still open.

import { roundTicks } from "./axis.ts";
import { halfAway } from "./rounding.ts";
import { medianWait, type Wait, type WaitStep } from "./waiting.ts";

type Spot = readonly [number, number];

export interface WaitChart {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly line: readonly Spot[];
  readonly band: readonly Spot[];
  readonly open: readonly { readonly x: number; readonly y: number }[];
  readonly half: { readonly x: number; readonly y: number } | null;
  readonly weeks: readonly { readonly x: number; readonly label: string }[];
  readonly shares: readonly { readonly y: number; readonly label: string }[];
}

const SIZE = { width: 360, height: 220, left: 50, right: 350, top: 16, bottom: 184 };
const MOST_STEPS = 6;

/**
 * Geometry in units of the drawing, from `survival` and the waits it was made of; null without a want.
 *
 * `line` climbs by the share that had turned up; `band` is its 95 %, which ends before the last want was found: then nothing is
 * left to tell its width by. `open` are wants still open or let go, a stroke each at the time they were last watched.
 */
export function waitChart(steps: readonly WaitStep[], waits: readonly Wait[]): WaitChart | null {
  if (waits.length === 0) return null;
  const longest = Math.max(...waits.map(({ weeks }) => weeks));
  const weeks = roundTicks(longest, MOST_STEPS);
  const { left, right, top, bottom } = SIZE;
  const x = (at: number) => halfAway(left + ((right - left) * at) / weeks.at(-1)!, 1);
  const y = (share: number) => halfAway(bottom - (bottom - top) * share, 1);
  const climbing = (figures: readonly Spot[], end: number): Spot[] => {
    const heights = [0, ...figures.map(([, share]) => share)];
    return [[x(0), y(0)], ...figures.flatMap(([at, share], turn): Spot[] => [[x(at), y(heights[turn]!)], [x(at), y(share)]]), [x(end), y(heights.at(-1)!)]];
  };
  const turnedUp = (at: number) => 1 - (steps.findLast((step) => step.weeks <= at)?.still ?? 1);
  const sure = steps.filter(({ still }) => still > 0);
  const last = steps.at(-1);
  const bandEnd = last && last.still <= 0 ? last.weeks : longest;
  const bound = (side: "low" | "high") => climbing(sure.map((step) => [step.weeks, 1 - step[side]]), bandEnd);
  const half = medianWait(steps).weeks;
  return {
    ...SIZE,
    line: climbing(steps.map((step) => [step.weeks, 1 - step.still]), longest),
    band: sure.length > 0 ? [...bound("low"), ...bound("high").reverse()] : [],
    open: waits.filter(({ found }) => !found).map((wait) => ({ x: x(wait.weeks), y: y(turnedUp(wait.weeks)) })),
    half: half === null ? null : { x: x(half), y: y(0.5) },
    weeks: weeks.map((at) => ({ x: x(at), label: String(at) })),
    shares: [0, 25, 50, 75, 100].map((percent) => ({ y: y(percent / 100), label: `${percent} %` })),
  };
}
