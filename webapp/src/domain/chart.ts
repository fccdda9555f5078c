// The chart of a shutter's errors: one line a marked speed, errors in stops across, as plain geometry and as SVG.

import { length, opening, words } from "./drawing.ts";
import { stopsWords } from "./report_words.ts";
import { halfAway } from "./rounding.ts";
import type { Row } from "./shutter_table.ts";

export type ChartRow = Pick<Row, "marked" | "nominal_s" | "cold" | "settled" | "error_stops" | "error_low" | "error_high" | "band">;

export interface Point {
  readonly shape: "settled" | "cold" | "hint";
  readonly x: number;
  readonly x_low: number | null;
  readonly x_high: number | null;
  /** The side on which it lies beyond the span. */
  readonly off: "left" | "right" | null;
}

export interface Chart {
  readonly width: number;
  readonly height: number;
  readonly span_stops: number;
  readonly top: number;
  readonly bottom: number;
  readonly zero: number;
  readonly bands: readonly { readonly name: "usable" | "fine"; readonly x: number; readonly width: number }[];
  readonly ticks: readonly { readonly x: number; readonly label: string }[];
  readonly rows: readonly { readonly label: string; readonly y: number; readonly points: readonly Point[] }[];
}

const WIDTH = 360;
const LEFT = 64;
const RIGHT = 348;
const TOP = 40;
const ROW = 30;
const LEAST_SPAN = 1.5;
const MOST_SPAN = 3;
const HOW_TO_READ =
  "One line a marked speed; left of the middle is shorter, right of it longer. Inner band: within 1/3 stop; outer band: within 1 stop. " +
  "Filled dot: settled; diamond: first firing, cold; ring: indication only or not judged; arrow: beyond the edge.";
const COLOURS = { usable: "#ece7d5", fine: "#cfdcc6" };

/**
 * Geometry in units of the drawing; a row without a time has no point.
 *
 * Errors beyond the span stand at its edge with `off`. `shape` and not colour tells settled, cold and hint (a speed that
 * sound cannot judge) apart.
 */
export function shutterChart(rows: readonly ChartRow[]): Chart {
  const errors = rows.flatMap((row) => [row.error_stops, coldError(row)]).flatMap((error) => (error === null ? [] : [Math.abs(error)]));
  const span = Math.min(MOST_SPAN, Math.max(LEAST_SPAN, Math.ceil(Math.max(0, ...errors) * 2) / 2));
  const height = TOP + ROW * rows.length + 24;
  const whole = Math.floor(span);
  return {
    width: WIDTH,
    height,
    span_stops: span,
    top: TOP - 8,
    bottom: height - 22,
    zero: across(0, span),
    bands: [bandAt("usable", 1, span), bandAt("fine", 1 / 3, span)],
    ticks: Array.from({ length: 2 * whole + 1 }, (_, index) => ({ x: across(index - whole, span), label: tick(index - whole) })),
    rows: rows.map((row, index) => rowOf(row, TOP + ROW * index + ROW / 2, span)),
  };
}

/** What the chart says, for who cannot see it. */
export function chartTitle(rows: readonly ChartRow[]): string {
  const said = rows.flatMap((row) => (row.error_stops === null ? [] : [`${row.marked.text}: ${stopsWords(row.error_stops)} stop`]));
  return `Error of each marked speed in stops. ${said.length > 0 ? `${said.join("; ")}.` : "No speed could be measured."}`;
}

/** The drawing as SVG text with its words for a screen reader; colours are attributes that a style sheet may replace. */
export function chartSvg(chart: Chart, title: string): string {
  const parts = [
    opening(chart.width, chart.height, title, HOW_TO_READ),
    ...chart.bands.map((band) => rect(band.name, band.x, chart.top, band.width, chart.bottom - chart.top)),
  ];
  for (const { x, label } of chart.ticks) {
    const kind = x === chart.zero ? "zero" : "tick";
    const colour = kind === "zero" ? "#333333" : "#a9a9a0";
    parts.push(`<line class="${kind}" x1="${length(x)}" x2="${length(x)}" y1="${chart.top}" y2="${length(chart.bottom)}" stroke="${colour}"/>`);
    parts.push(words(x, chart.bottom + 16, label, "middle"));
  }
  parts.push(words(LEFT, 14, "← shorter, less light", "start"), words(RIGHT, 14, "longer, more light →", "end"));
  for (const row of chart.rows) {
    parts.push(words(LEFT - 8, row.y + 5, row.label, "end"), ...row.points.map((point) => drawn(point, row.y)));
    if (row.points.length === 0) parts.push(words(chart.zero, row.y + 5, "no reading", "middle"));
  }
  return `${parts.join("")}</svg>`;
}

function rowOf(row: ChartRow, y: number, span: number): Chart["rows"][number] {
  const points: Point[] = [];
  const cold = coldError(row);
  if (row.settled !== null && cold !== null) points.push({ shape: "cold", x: across(cold, span), x_low: null, x_high: null, off: off(cold, span) });
  if (row.error_stops !== null) {
    const shape = row.band === "indication_only" || row.band === "not_judged" ? "hint" : row.settled ? "settled" : "cold";
    points.push({ shape, x: across(row.error_stops, span), x_low: across(row.error_low!, span), x_high: across(row.error_high!, span), off: off(row.error_stops, span) });
  }
  return { label: row.marked.text, y, points };
}

function coldError(row: ChartRow): number | null {
  return row.cold ? Math.log2(row.cold.s / row.nominal_s) : null;
}

function across(stops: number, span: number): number {
  const inside = Math.max(-span, Math.min(span, stops));
  return halfAway(LEFT + ((RIGHT - LEFT) * (inside + span)) / (2 * span), 1);
}

function off(stops: number, span: number): Point["off"] {
  return stops > span ? "right" : stops < -span ? "left" : null;
}

function bandAt(name: "usable" | "fine", stops: number, span: number): Chart["bands"][number] {
  return { name, x: across(-stops, span), width: halfAway(across(stops, span) - across(-stops, span), 1) };
}

function tick(stops: number): string {
  return stops > 0 ? `+${stops}` : String(stops).replace("-", "−");
}

function rect(name: keyof typeof COLOURS, x: number, y: number, width: number, height: number): string {
  return `<rect class="${name}" x="${length(x)}" y="${length(y)}" width="${length(width)}" height="${length(height)}" fill="${COLOURS[name]}"/>`;
}

function drawn({ x, x_low: low, x_high: high, shape, off: beyond }: Point, y: number): string {
  const dash = shape === "hint" ? ' stroke-dasharray="3 3"' : "";
  const bar = low === null || high === null ? "" : `<line class="bar" x1="${length(low)}" x2="${length(high)}" y1="${length(y)}" y2="${length(y)}" stroke="#1d1d1b" stroke-width="2"${dash}/>`;
  if (beyond) {
    const back = beyond === "right" ? x - 9 : x + 9;
    return `${bar}<path class="dot" d="M${length(x)} ${length(y)}L${length(back)} ${length(y - 6)}L${length(back)} ${length(y + 6)}Z" fill="#1d1d1b"/>`;
  }
  if (shape === "cold") {
    return `${bar}<path class="hollow" d="M${length(x)} ${length(y - 7)}L${length(x + 7)} ${length(y)}L${length(x)} ${length(y + 7)}L${length(x - 7)} ${length(y)}Z" fill="#ffffff" stroke="#1d1d1b" stroke-width="2"/>`;
  }
  if (shape === "hint") return `${bar}<circle class="hollow" cx="${length(x)}" cy="${length(y)}" r="5" fill="#ffffff" stroke="#1d1d1b" stroke-width="2"/>`;
  return `${bar}<circle class="dot" cx="${length(x)}" cy="${length(y)}" r="5.5" fill="#1d1d1b"/>`;
}
