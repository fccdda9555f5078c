// The rules of fit between two things, one question each: does it cover, reach infinity, go on the board, pass the front, seat, focus.

import { focalFigure } from "./aperture.ts";
import { reach } from "./bellows.ts";
import type { Catalogue } from "./catalogue.ts";
import { imageArea, room } from "./coverage.ts";
import { filmPlane, focusError } from "./focus.ts";
import { circleOfConfusion, goneAt } from "./focus_blur.ts";
import { factFigure, type Facts } from "./kit_facts.ts";
import { type LengthUnit, showLength } from "./lengths.ts";
import { adapter, boardRoom, holeTakes, wantedHole } from "./mounting.ts";
import { fixed } from "./rounding.ts";

export type Fit = "fits" | "fits_if" | "does_not_fit" | "not_known";

export interface FitAnswer {
  readonly about: string;
  readonly verdict: Fit;
  readonly reason: string;
  readonly figure: string | null;
  readonly missing: readonly { readonly of: string; readonly fact: string; readonly title: string }[];
}

export type Shared = Pick<Catalogue, "formats" | "standards" | "measures">;

// Where only the nominal size of a format is known, the picture may be this much smaller; common practice, no source.
const TRUE_SHARE = 0.93;
// The deepest recess and the longest tube a board is made with, in mm; common practice, no source.
const RECESS_MM = 40;
const TUBE_MM = 60;
const USUAL_STOP = 5.66;
const FILM_MM = 0.18;

/** One question answered. */
export function answer(about: string, verdict: Fit, reason: string, figure: string | null = null): FitAnswer {
  return { about, verdict, reason, figure, missing: [] };
}

function mm(facts: Facts, fact: string): number {
  return facts[fact] as number;
}

function word(facts: Facts, fact: string): string {
  return facts[fact] as string;
}

/** Whether the lens's image circle covers the camera's picture, from `format` and `circle_mm`. */
export function covers(camera: Facts, lens: Facts, catalogue: Shared, unit: LengthUnit): FitAnswer {
  const area = imageArea(word(camera, "format"), catalogue);
  const circle = mm(lens, "circle_mm");
  const left = room(circle, area.width_mm, area.height_mm);
  const need = `${showLength(circle, unit)} against ${showLength(area.diagonal_mm, unit)}`;
  if (left.covers) return answer("covers", "fits", `It covers, with ${showLength(left.rise_mm, unit)} of rise in an upright picture.`, need);
  if (!area.true && circle >= area.diagonal_mm * TRUE_SHARE) {
    return answer("covers", "fits_if", "It covers if the holder takes a little off the picture, as most do. Look at the corners of the screen, stopped down.", need);
  }
  return answer("covers", "does_not_fit", "The corners stay dark: the image circle is smaller than the picture.", need);
}

/** Whether the camera's draw reaches infinity with the lens, from `shortest_mm`, `longest_mm`, `focal_mm` and `flange_mm`. */
export function infinity(camera: Facts, lens: Facts, catalogue: Shared, unit: LengthUnit): FitAnswer {
  const focal = focalFigure(mm(lens, "focal_mm"), catalogue);
  const flange = lens["flange_mm"] ? factFigure(lens, "flange_mm", catalogue) : null;
  const shortest = factFigure(camera, "shortest_mm", catalogue);
  const longest = factFigure(camera, "longest_mm", catalogue);
  const got = reach(shortest, longest, focal, flange);
  const need = (flange ?? focal).value;
  const span = `${showLength(need, unit)} wanted, ${showLength(shortest.value, unit)} to ${showLength(longest.value, unit)} there`;
  if (got.infinity === "yes") {
    const near = got.nearest_mm ? `nearest from ${showLength(got.nearest_mm, unit)}` : "infinity only";
    return answer("infinity", "fits", `It reaches infinity; ${near}, ${fixed(got.magnification ?? 0, 2)} times life size.`, span);
  }
  if (got.infinity === "cannot_tell") return answer("infinity", "fits_if", "It is too close to say: try it on a far edge.", span);
  if (got.infinity === "cannot_close_up") {
    const lack = shortest.value - need;
    if (lack > RECESS_MM) return answer("infinity", "does_not_fit", "The bellows cannot be pushed in far enough for infinity.", span);
    return answer("infinity", "fits_if", `It reaches infinity on a board recessed by ${showLength(lack, unit)}.`, span);
  }
  const lack = need - longest.value;
  if (lack > TUBE_MM) return answer("infinity", "does_not_fit", "The bellows cannot be drawn out far enough for infinity.", span);
  return answer("infinity", "fits_if", `It reaches infinity on a board standing ${showLength(lack, unit)} forward.`, span);
}

/** Whether the lens goes on the camera's board: from both boards' sizes, or from `shutter_size` or `thread_mm`. */
export function board(camera: Facts, lens: Facts, catalogue: Shared, unit: LengthUnit): FitAnswer {
  const mine = { width_mm: mm(camera, "board_width_mm"), height_mm: mm(camera, "board_height_mm") };
  const size = `${showLength(mine.width_mm, unit)} × ${showLength(mine.height_mm, unit)}`;
  if (lens["board_width_mm"] && lens["board_height_mm"]) {
    const { need, rim_mm } = adapter({ width_mm: mm(lens, "board_width_mm"), height_mm: mm(lens, "board_height_mm") }, mine);
    if (need === "none") return answer("board", "fits_if", "The boards are of one size; try corners, thickness and rib.", size);
    if (need === "reducing") return answer("board", "fits_if", `With an adapter board that carries the smaller one in a frame of ${showLength(rim_mm, unit)}.`, size);
  }
  if (!lens["shutter_size"] && !lens["thread_mm"]) {
    return answer("board", "fits_if", "Its board is too large to be carried: what it holds must go on a board of this camera.", size);
  }
  const wanted = wantedHole(lens["shutter_size"] as string | null, lens["thread_mm"] as number | null, catalogue).mm;
  if (!boardRoom(mine.width_mm, mine.height_mm, wanted).enough) return answer("board", "does_not_fit", "The camera's board is too small for a hole of this size.", size);
  return answer("board", "fits_if", `On a board of this camera with a hole of about ${showLength(wanted, unit)}.`, size);
}

/** Whether the rear group passes the opening behind the board, from `rear_width_mm` and `front_opening_mm`. */
export function passes(camera: Facts, lens: Facts, unit: LengthUnit): FitAnswer {
  const [wide, opening] = [mm(lens, "rear_width_mm"), mm(camera, "front_opening_mm")];
  const need = `${showLength(wide, unit)} through ${showLength(opening, unit)}`;
  if (wide + 1 <= opening) return answer("passes", "fits", "The rear group passes the front of the camera.", need);
  return answer("passes", "does_not_fit", "The rear group is too wide for the opening behind the board.", need);
}

/** Whether holders are for the camera's format, from `format` and `film_size`; look-alike formats share one outside. */
export function film(camera: Facts, holders: Facts, catalogue: Shared): FitAnswer {
  const mine = catalogue.formats.find(({ id }) => id === camera["format"]);
  const theirs = catalogue.formats.find(({ id }) => id === holders["film_size"]);
  if (!mine || !theirs) return answer("film", "not_known", "The format is not one of the list: hold one of the holders to the camera.");
  const words = `${theirs.title} for ${mine.title}`;
  if (mine === theirs) return answer("film", "fits", "They are for the camera's own format.", words);
  if ((holders["family"] || theirs.family) === mine.family) {
    return answer("film", "fits_if", "They share the outside of the camera's format, but take film of another size.", words);
  }
  return answer("film", "does_not_fit", "They are for another format, with another outside.", words);
}

/** Whether the form of holder is the one the back takes, from `holder_form` and `form`. */
export function seats(camera: Facts, holders: Facts): FitAnswer {
  if (camera["holder_form"] === holders["form"]) return answer("seats", "fits_if", "They are of the form the back takes; try one on its rib.");
  return answer("seats", "does_not_fit", "The back takes holders of another form.");
}

/** Whether film in these holders lies where the camera focuses, from `glass_depth_mm`, `depth_mm` and `format`; film of 0.18 mm, disc of diagonal/1750. */
export function focuses(camera: Facts, holders: Facts, catalogue: Shared, unit: LengthUnit): FitAnswer {
  const on = holders["registers_on"];
  if (on !== null && on !== undefined && on !== "divider") {
    return answer("focuses", "not_known", "Their film does not lie on the divider, so its depth says nothing. Focus with film in one of them.");
  }
  const { error_mm } = focusError(factFigure(camera, "glass_depth_mm", catalogue), filmPlane(factFigure(holders, "depth_mm", catalogue), FILM_MM));
  const gone = goneAt(error_mm, [], circleOfConfusion(word(camera, "format"), "circle_of_confusion.1750", catalogue).mm).n;
  const off = `${fixed(error_mm.value, 2).replace("-", "−")} mm`;
  if (gone.high <= USUAL_STOP) return answer("focuses", "fits", "Film lies where the screen focuses, as far as it shows at f/5.6.", off);
  return answer("focuses", "fits_if", `Stopped down to f/${fixed(gone.value, 1)}, or with the screen moved by ${showLength(Math.abs(error_mm.value), unit)}.`, off);
}

/** Whether a loose board's hole takes the lens, from `hole_mm` and `shutter_size` or `thread_mm`. */
export function hole(lens: Facts, looseBoard: Facts, catalogue: Shared, unit: LengthUnit): FitAnswer {
  const wanted = wantedHole(lens["shutter_size"] as string | null, lens["thread_mm"] as number | null, catalogue);
  const { fit, by_mm } = holeTakes(factFigure(looseBoard, "hole_mm", catalogue), wanted);
  const words = `${showLength(mm(looseBoard, "hole_mm"), unit)} there, ${showLength(wanted.mm, unit)} wanted`;
  const by = showLength(Math.abs(by_mm), unit);
  if (fit === "fits") return answer("hole", "fits", "The hole takes the lens.", words);
  if (fit === "bore") return answer("hole", "fits_if", `The hole must be made wider by ${by}.`, words);
  if (fit === "ring") return answer("hole", "fits_if", `The hole is too wide by ${by}: it needs a ring or another board.`, words);
  return answer("hole", "fits_if", "It is too close to say: try it.", words);
}
