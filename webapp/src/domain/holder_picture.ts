// The chart of a set of holders as SVG: a set of many sides stands on several charts of one scale, each of which fits a page.

import { INK, length, opening, PAPER, words } from "./drawing.ts";
import { type HolderChart, ROW, TOP } from "./holder_chart.ts";
import type { Stand } from "./holder_set.ts";

type Row = HolderChart["rows"][number];

const MOST_ROWS = 24;
const LABEL_X = 46;
export const STANDS: Readonly<Record<Stand, string>> = { within: "within", too_deep: "too deep", too_shallow: "too shallow", cannot_tell: "cannot be told", no_standard: "" };
const HOW_TO_READ =
  "One line a side, deeper to the right, with its interval. The shaded band is what the standard allows. " +
  "Filled dot: within; ring: cannot be told; a tip to the right: too deep; to the left: too shallow.";

/** The drawings in their order; `depths`: label of a side to its depth in words. */
export function holderSvgs(chart: HolderChart, depths: Readonly<Record<string, string>>, unit: string): string[] {
  const parts = Math.ceil(chart.rows.length / MOST_ROWS);
  return Array.from({ length: parts }, (_, index) => drawn(partOf(chart, index * MOST_ROWS), depths, unit));
}

function partOf(chart: HolderChart, start: number): HolderChart {
  const rows = chart.rows.slice(start, start + MOST_ROWS).map((row, index) => ({ ...row, y: TOP + ROW * index + ROW / 2 }));
  const bottom = TOP + ROW * rows.length + 6;
  return { ...chart, rows, bottom, height: bottom + 26 };
}

function drawn({ width, height, top, bottom, band, middle, ticks, rows }: HolderChart, depths: Readonly<Record<string, string>>, unit: string): string {
  const said = rows.map(({ label, stands }) => `${label}: ${depths[label]}${STANDS[stands] ? `, ${STANDS[stands]}` : ""}`).join("; ");
  return [
    opening(width, height, `Depth of each side. ${said}.`, HOW_TO_READ),
    band ? `<rect class="fine" x="${length(band.x)}" y="${top}" width="${length(band.width)}" height="${length(bottom - top)}" fill="#cfdcc6"/>` : "",
    middle === null ? "" : `<line class="zero" x1="${length(middle)}" x2="${length(middle)}" y1="${top}" y2="${length(bottom)}" stroke="#333333"/>`,
    ...ticks.map(({ x, label }) => `<line class="tick" x1="${length(x)}" x2="${length(x)}" y1="${top}" y2="${length(bottom + 4)}" stroke="#a9a9a0"/>${words(x, bottom + 18, label, "middle")}`),
    words(LABEL_X, bottom + 18, unit, "end"),
    ...rows.map((row) => words(LABEL_X, row.y + 5, row.label, "end") + bar(row) + point(row)),
    "</svg>",
  ].join("");
}

function bar({ x_low: low, x_high: high, y }: Row): string {
  return `<line class="bar" x1="${length(low)}" x2="${length(high)}" y1="${length(y)}" y2="${length(y)}" stroke="${INK}" stroke-width="2"/>`;
}

function point({ x, y, stands }: Row): string {
  if (stands === "too_deep") return `<path class="dot" d="M${length(x + 7)} ${length(y)}l-11 -6v12z" fill="${INK}"/>`;
  if (stands === "too_shallow") return `<path class="dot" d="M${length(x - 7)} ${length(y)}l11 -6v12z" fill="${INK}"/>`;
  if (stands === "cannot_tell") return `<circle class="hollow" cx="${length(x)}" cy="${length(y)}" r="5" fill="${PAPER}" stroke="${INK}" stroke-width="2"/>`;
  return `<circle class="dot" cx="${length(x)}" cy="${length(y)}" r="5" fill="${INK}"/>`;
}
