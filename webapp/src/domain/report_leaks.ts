// Bright places of a photo taken in the dark, in a report: numbered, each with who said what of it; never a count of leaks.

import { leakView, type LeakPlace, places, type Said } from "./leak_reading.ts";
import type { ReportLeaks, ReportPhoto } from "./report_records.ts";
import { counted } from "./report_words.ts";
import { halfAway } from "./rounding.ts";

const SAID: Readonly<Record<Exclude<Said, "struck_out">, string>> = {
  confirmed: "light coming through, by who looked",
  added: "light coming through, marked by who looked and not by the machine",
  candidate: "a place to look at; nobody has judged it",
};
const SPOILT = ["black", "too_much_light"];
const DOUBTS: Readonly<Record<string, string>> = {
  black: "The photo is too dark: nothing can be said from it.",
  too_much_light: "There is too much light in the photo: nothing can be said from it.",
  moved: "The photo seems moved: faint places may be lost and those shown may be smeared.",
  blurred: "The photo seems out of focus: faint places may be lost.",
};
const NOTHING = "No bright place stands out in this photo. Fainter light would not show here, and other lengths and directions may show some.";
const RADIUS_SHARE = 0.02;

/** Places carry a letter L, apart from a person's spots. */
export function leakPlaces(reading: ReportLeaks, { width, height }: Pick<NonNullable<ReportPhoto["file"]>, "width" | "height">) {
  const whole = { machine: reading.machine ?? null, region: reading.region ?? null, marks: reading.marks ?? [] };
  const view = leakView(whole, width, height);
  const struck = places(whole, width, height).filter(({ said }) => said === "struck_out").length;
  const radius = halfAway(RADIUS_SHARE * Math.max(width, height), 1);
  const spoilt = view.reasons.some((reason) => SPOILT.includes(reason));
  return {
    places: view.places.map((one) => placeOf(one, width, height, radius)),
    nothing: view.places.length > 0 || spoilt ? "" : NOTHING,
    struck: struck > 0 ? `${counted(struck, "place", "places")} that the machine proposed: struck out by who looked, as no light.` : "",
    region: whole.region ? "Only the part of the photo that who looked drew around was searched." : "",
    doubts: view.reasons.map((reason) => DOUBTS[reason] ?? reason),
    limit: view.limit ?? "",
    by: view.algorithm ? `Places proposed by ${view.algorithm}, from this one photo.` : "Places marked by who looked; no machine searched this photo.",
    stroke: halfAway(radius / 6, 1),
    font: halfAway(radius * 1.5, 1),
  };
}

function placeOf(one: LeakPlace, width: number, height: number, r: number) {
  const [x, y] = [one.at.x * width, one.at.y * height];
  const beside = x < 0.8 * width ? x + 2.4 * r : x - 2.4 * r;
  return {
    mark: `L${one.number}`, x: halfAway(x, 1), y: halfAway(y, 1), r,
    number_x: halfAway(beside, 1), number_y: halfAway(y + r * 0.5, 1), words: SAID[one.said as keyof typeof SAID],
    looks: [one.strength ?? "", one.kind === "streak" ? "drawn out" : ""].filter((word) => word !== "").join(", "),
    sure: one.said !== "candidate",
  };
}
