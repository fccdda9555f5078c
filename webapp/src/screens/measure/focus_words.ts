// What a focus error means, in sentences for the person at the camera.
import type { Catalogue } from "../../domain/catalogue.ts";
import type { LengthUnit } from "../../domain/lengths.ts";
import type { GoneAt } from "../../domain/focus_blur.ts";
import { lengthWords, stopWords } from "./figure_words.ts";
import type { FocusResult } from "./focus_input.ts";

/** "Pictures come out sharp nearer than focused." and how surely. */
export function errorWords({ found }: FocusResult): string {
  if (found.sharp === "nearer") return "The screen lies too close to the lens: pictures come out sharp nearer than you focused.";
  if (found.sharp === "farther") return "The screen lies too far from the lens: pictures come out sharp farther than you focused.";
  return "Screen and film agree as far as this can be measured.";
}

export function shimWords({ found: { shim } }: FocusResult, unit: LengthUnit): string {
  if (shim.do === "leave") return "Leave the screen where it is. The interval holds no error at all; only finer measuring could find one.";
  const much = lengthWords(shim.mm, unit);
  if (shim.do === "add") return `Move the screen away from the lens by ${much}: packing of that thickness, alike at all four corners, between its seat and the glass.`;
  return `Move the screen towards the lens by ${much}: take packing of that thickness from under all four corners. If there is none, the seat must be cut deeper: a repairer's work.`;
}

export function goneWords({ n, likely, surely }: GoneAt, catalogue: Pick<Catalogue, "iris_scales">): string {
  const said = (stop: number) => stopWords(stop, catalogue);
  const from = `It no longer shows from ${said(n.value)}`;
  if (surely !== null && surely === likely) return `${from}: by the marks, at ${said(surely)}.`;
  if (surely !== null) return `${from}${likely === null ? "" : `, marked ${said(likely)}`}; surely at ${said(surely)}.`;
  return `${from}; no usual mark is surely small enough.`;
}

