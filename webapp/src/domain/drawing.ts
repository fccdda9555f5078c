// How every chart of a report is drawn: lengths, words, and a head that tells a screen reader what is to be seen.

import { halfAway } from "./rounding.ts";

export const INK = "#1d1d1b";
export const PAPER = "#ffffff";

/** The start of a drawing of this many units: `title` says all that it shows, `howToRead` what its shapes mean. */
export function opening(width: number, height: number, title: string, howToRead: string): string {
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" class="chart" role="img" viewBox="0 0 ${length(width)} ${length(height)}"` +
    ` font-family="sans-serif" font-size="13"><title>${escaped(title)}</title><desc>${escaped(howToRead)}</desc>`
  );
}

/** A line of text. */
export function words(x: number, y: number, text: string, anchor: "start" | "middle" | "end"): string {
  return `<text x="${length(x)}" y="${length(y)}" text-anchor="${anchor}" fill="${INK}">${escaped(text)}</text>`;
}

/** A length as SVG writes it: one decimal, none that is empty. */
export function length(value: number): string {
  return String(halfAway(value, 1));
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;").replaceAll("'", "&#x27;");
}
