// The sound of one firing drawn small: the stretch around its two marks, the loudest sample of each column, the marks as lines.

import { INK, length, opening, words } from "./drawing.ts";
import { fixed, halfAway } from "./rounding.ts";

export interface Wave {
  readonly from_s: number;
  readonly to_s: number;
  /** 0 to 20 of the loudest. */
  readonly heights: readonly number[];
}

const COLUMNS = 120;
const LOUDEST = 20;
const EACH = 2;
const [TOP, MIDDLE, BOTTOM] = [4, 26, 48];
const HEIGHT = 66;
// Beside the marks: half the time between them again, and never less than a click needs to be seen.
const LEAST_BESIDE_S = 0.008;
const HOW_TO_READ = "Loudness over time. A whole line stands where the shutter is taken to open, a broken line where it is taken to close.";

/** The stretch around the marks, all of the sound where there are none. `samples`: mono, full scale -1 to 1. Throws RangeError for an empty sound. */
export function wave(samples: ArrayLike<number>, rateHz: number, openS: number | null, closeS: number | null): Wave {
  if (samples.length === 0) throw new RangeError("This recording holds no sound.");
  let [first, last] = [0, samples.length];
  if (openS !== null && closeS !== null) {
    const beside = Math.max(LEAST_BESIDE_S, (closeS - openS) / 2);
    first = Math.min(Math.max(0, Math.floor((openS - beside) * rateHz)), samples.length - 1);
    last = Math.max(Math.min(samples.length, Math.ceil((closeS + beside) * rateHz)), first + 1);
  }
  const start = (column: number) => first + Math.floor(((last - first) * column) / COLUMNS);
  const peaks = Array.from({ length: COLUMNS }, (_, column) => {
    let peak = 0;
    for (let i = start(column); i < Math.max(start(column) + 1, start(column + 1)); i += 1) peak = Math.max(peak, Math.abs(samples[i]!));
    return peak;
  });
  const most = Math.max(...peaks);
  return { from_s: first / rateHz, to_s: last / rateHz, heights: peaks.map((peak) => (most > 0 ? halfAway((LOUDEST * peak) / most, 0) : 0)) };
}

/** The drawing of a wave; a mark outside the stretch is left out. */
export function waveSvg(drawn: Wave, openS: number | null, closeS: number | null, title: string): string {
  const width = EACH * COLUMNS;
  const strokes = drawn.heights.map((height, index) => (height > 0 ? `M${EACH * index + 1} ${MIDDLE - height}v${2 * height}` : "")).join("");
  const marks = ([[openS, ""], [closeS, ' stroke-dasharray="4 3"']] as const).map(([at, dash]) => {
    if (at === null || at < drawn.from_s || at > drawn.to_s) return "";
    const x = length((width * (at - drawn.from_s)) / (drawn.to_s - drawn.from_s));
    return `<line class="bar" x1="${x}" x2="${x}" y1="${TOP - 4}" y2="${BOTTOM}" stroke="${INK}" stroke-width="2"${dash}/>`;
  });
  return [
    opening(width, HEIGHT, title, HOW_TO_READ),
    `<line class="tick" x1="0" x2="${width}" y1="${MIDDLE}" y2="${MIDDLE}" stroke="#a9a9a0"/>`,
    `<path class="sound" d="${strokes}" stroke="#55534c" stroke-width="1.4"/>`,
    ...marks,
    words(0, HEIGHT - 4, `${fixed(drawn.from_s, 3)} s`, "start"),
    words(width, HEIGHT - 4, `${fixed(drawn.to_s, 3)} s`, "end"),
    "</svg>",
  ].join("");
}
