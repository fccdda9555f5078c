// Turns a report view into the page a buyer reads, by the very template the server uses.

import leaks from "@template/leaks.mustache?raw";
import picture from "@template/picture.mustache?raw";
import piece from "@template/piece.mustache?raw";
import report from "@template/report.mustache?raw";
import shutter from "@template/shutter.mustache?raw";
import since from "@template/since.mustache?raw";
import css from "@template/style.css?raw";
import Mustache from "mustache";

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#x27;" };

/** The HTML of a view; both sides give the same text for the same view. */
export function page(view: object): string {
  return Mustache.render(report, view, { leaks, piece, picture, shutter, since }, { escape: (value) => String(value).replace(/[&<>"']/g, (sign) => ENTITIES[sign]!) });
}

/** The style sheet that stands beside the page. */
export function style(): string {
  return css;
}
