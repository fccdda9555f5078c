// The drawing of screen, film and the cone of light between them, all to one scale; plain geometry for screen and report.

import { halfAway } from "./rounding.ts";
import { type Figure, positive } from "./uncertainty.ts";

interface Plane {
  readonly x: number;
  readonly x_low: number;
  readonly x_high: number;
}

export interface FocusDrawing {
  readonly width: number;
  readonly height: number;
  /** Height of the optical axis. */
  readonly axis: number;
  readonly mm_to_units: number;
  readonly screen: Plane;
  readonly film: Plane;
  /** Of the cone that comes to its point on the screen's plane. */
  readonly rays: readonly { readonly x1: number; readonly y1: number; readonly x2: number; readonly y2: number }[];
  readonly blur: { readonly x: number; readonly y1: number; readonly y2: number };
  readonly scale: { readonly x1: number; readonly x2: number; readonly y: number; readonly mm: number };
}

const WIDTH = 360;
const HEIGHT = 200;
const LEFT = 16;
const RIGHT = 344;
const AXIS = 92;
const LEAST_SPAN_MM = 0.6;
const BARS_MM = [0.1, 0.2, 0.5, 1, 2, 5];

/** The lens is on the left; figures in mm from the seat. Across and along have the same scale. Throws RangeError for an f-number that cannot be. */
export function focusDrawing(screenMm: Figure, filmMm: Figure, n: number): FocusDrawing {
  positive(n, "An f-number", 1024);
  const ends = [screenMm.low, screenMm.high, filmMm.low, filmMm.high];
  const middle = (Math.min(...ends) + Math.max(...ends)) / 2;
  const span = Math.max(LEAST_SPAN_MM, (Math.max(...ends) - Math.min(...ends)) * 1.5);
  const units = (RIGHT - LEFT) / span;
  const x = (mm: number) => halfAway((LEFT + RIGHT) / 2 + (mm - middle) * units, 1);
  const plane = ({ value, low, high }: Figure) => ({ x: x(value), x_low: x(low), x_high: x(high) });
  // Half the cone's width where it cuts a depth: it opens by 1/N.
  const halfHeight = (mm: number) => (Math.abs(mm - screenMm.value) * units) / n / 2;
  const [first, last] = [middle - span / 2, middle + span / 2];
  const rays = [1, -1].map((sign) => ({
    x1: x(first), y1: halfAway(AXIS - sign * halfHeight(first), 1), x2: x(last), y2: halfAway(AXIS + sign * halfHeight(last), 1),
  }));
  const blur = halfHeight(filmMm.value);
  const barMm = Math.max(...BARS_MM.filter((one) => one * units <= 160 || one === 0.1));
  return {
    width: WIDTH,
    height: HEIGHT,
    axis: AXIS,
    mm_to_units: units,
    screen: plane(screenMm),
    film: plane(filmMm),
    rays,
    blur: { x: x(filmMm.value), y1: halfAway(AXIS - blur, 1), y2: halfAway(AXIS + blur, 1) },
    scale: { x1: LEFT, x2: halfAway(LEFT + barMm * units, 1), y: HEIGHT - 12, mm: barMm },
  };
}

export interface StackPart {
  readonly title: string;
  readonly x: number;
  readonly width: number;
  readonly matte: "left" | "right" | null;
}

/** The sheets of the screen in order from the lens, side by side to scale over 300 units; `glass` is the one with a matte face. */
export function stackDrawing(layers: readonly { readonly title: string; readonly thickness_mm: number; readonly glass: boolean }[], matteFirst: boolean): StackPart[] {
  const whole = layers.reduce((sum, one) => sum + one.thickness_mm, 0);
  const units = whole > 0 ? 300 / whole : 0;
  let at = 30;
  return layers.map(({ title, thickness_mm, glass }) => {
    const part: StackPart = { title, x: halfAway(at, 1), width: halfAway(thickness_mm * units, 1), matte: glass ? (matteFirst ? "left" : "right") : null };
    at += thickness_mm * units;
    return part;
  });
}
