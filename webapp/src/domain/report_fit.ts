// What the readings of a piece come to: draw, parallel, square, screen, stop and cover, each with its interval and its source.

import { apertureError, type ApertureError, fNumber, focalFigure } from "./aperture.ts";
import type { Catalogue } from "./catalogue.ts";
import { imageArea, room } from "./coverage.ts";
import { type Stand, standOf } from "./holder_set.ts";
import { parsePlace } from "./ids.ts";
import { stopNumber } from "./iris_scale.ts";
import { lengthMm } from "./report_readings.ts";
import type { ReportPiece, ReportReading } from "./report_records.ts";
import { GAP, stopsWords } from "./report_words.ts";
import { fixed } from "./rounding.ts";
import { CORNERS, outOfParallel, outOfSquare } from "./straightness.ts";
import { type Figure, type Instrument, instrumentU, meanFigure, readFigure } from "./uncertainty.ts";

type Shared = Pick<Catalogue, "terms" | "standards" | "formats" | "iris_scales">;
export interface FitFigure { readonly what: string; readonly figure: string; readonly words: string; readonly source: string }
type Make = (found: Found, piece: ReportPiece, catalogue: Shared) => FitFigure | null;

const ARITHMETIC = "arithmetic on the readings below, thin lens";
const SQUARE = {
  yes: "no difference that matters (1 mm, common practice, no source)",
  no: "the frame is out of square",
  cannot_tell: "too close to tell with this instrument",
};
const SCREEN: Readonly<Partial<Record<Stand, string>>> = {
  within: "within what the standard allows a holder",
  too_deep: "deeper than the standard allows a holder",
  too_shallow: "shallower than the standard allows a holder",
  cannot_tell: "measured like this, within cannot be told from beyond",
};
const STOP: Readonly<Record<ApertureError["judged"], string>> = {
  agrees: "agrees with its mark, as well as real marks ever do",
  less_light: "gives less light than marked",
  more_light: "gives more light than marked",
  cannot_tell: "measured like this, the difference cannot be told from none",
};

/** The readings by check and name; asking for one that nobody took ends what is being made. */
class Found {
  constructor(private readonly readings: readonly ReportReading[]) {}

  all(check: string, reading: string): ReportReading[] {
    return this.readings.filter((one) => one.check === check && one.reading === reading && one.typed);
  }

  one(check: string, reading: string): ReportReading {
    const [first] = this.all(check, reading);
    if (!first) throw new RangeError("Nobody took this reading.");
    return first;
  }
}

/** A figure whose instrument nobody noted is left out, for it would have no interval. */
export function fitFigures(piece: ReportPiece, readings: readonly ReportReading[], catalogue: Shared): FitFigure[] {
  const found = new Found(readings);
  return [draw, parallel, square, screen, stop, cover].flatMap((make) => tried(make, found, piece, catalogue) ?? []);
}

/** A reading that cannot be what it says stands in the table as it was typed; nothing is made of it here. */
function tried(make: Make, found: Found, piece: ReportPiece, catalogue: Shared): FitFigure | null {
  try {
    return make(found, piece, catalogue);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function draw(found: Found, _: ReportPiece, catalogue: Shared): FitFigure {
  const shortest = read(found.one("camera.bellows.reach", "shortest"), catalogue);
  const longest = read(found.one("camera.bellows.reach", "longest"), catalogue);
  if (shortest.value > longest.value) throw new RangeError("The shortest draw is longer than the longest.");
  const far = `A lens reaches infinity if it wants ${fixed(shortest.high, 0)} to ${fixed(longest.low, 0)}${GAP}mm from board to film`;
  return {
    what: "Draw", figure: `${figureWords(shortest, 0)} to ${figureWords(longest, 0)}`,
    words: `${far}; life size up to a focal length of ${fixed(longest.low / 2, 0)}${GAP}mm`, source: ARITHMETIC,
  };
}

function parallel(found: Found, _: ReportPiece, catalogue: Shared): FitFigure | null {
  const own = found.all("camera.movements.zero", "gap");
  if (own.length === 0) return null;
  const gaps = own.map((one) => [parsePlace(one.place ?? "")["corner"] ?? "", mm(one)] as const).filter(([corner]) => (CORNERS as readonly string[]).includes(corner));
  const { across_mm: across } = outOfParallel(Object.fromEntries(gaps), coarsest(own, catalogue));
  const words = across.high < 1 ? "under 1 mm, which does not show" : `${fixed(across.value / 2, 1)}${GAP}mm of focus error at each edge`;
  return { what: "Standards out of parallel", figure: figureWords(across, 2), words, source: "from four gaps; half the difference at each edge is arithmetic" };
}

function square(found: Found, _: ReportPiece, catalogue: Shared): FitFigure {
  const [one, other] = [found.one("camera.body.joints", "diagonal_1"), found.one("camera.body.joints", "diagonal_2")];
  const out = outOfSquare(mm(one), mm(other), coarsest([one, other], catalogue));
  return { what: "Diagonals apart", figure: figureWords(out.apart_mm, 1), words: SQUARE[out.square], source: "the difference of two diagonals" };
}

function screen(found: Found, piece: ReportPiece, catalogue: Shared): FitFigure | null {
  const own = found.all("camera.back.depth", "glass_depth").length > 0 ? found.all("camera.back.depth", "glass_depth") : found.all("other.back.depth", "glass_depth");
  if (own.length === 0) return null;
  const depth = meanFigure(own.map(mm), coarsest(own, catalogue));
  const words = SCREEN[standOf(depth, piece.format, catalogue).stands];
  const standard = catalogue.standards.find((one) => one.quantity === "holder_depth" && one.applies.format === piece.format);
  if (!words || !standard) return null;
  const sheets = (piece.screen_stack ?? []).length > 1 ? "; a fresnel or cover sheet in front of the matte side moves it and is not taken off here" : "";
  return { what: "Depth to the screen", figure: figureWords(depth, 3), words: words + sheets, source: `${standard.as_printed}: ${standard.source}; ${standard.sureness}` };
}

function stop(found: Found, _: ReportPiece, catalogue: Shared): FitFigure {
  const pupil = read(found.one("lens.iris.f_number", "pupil"), catalogue);
  const marked = found.one("lens.iris.f_number", "marked_stop").typed!.text.trim();
  const [measured] = found.all("lens.fit.focal", "focal_measured");
  const focal = measured ? read(measured, catalogue) : focalFigure(mm(found.one("lens.fit.focal", "focal_marked")), catalogue);
  const { stops, judged } = apertureError(fNumber(focal, pupil), stopNumber(marked, "f", catalogue), catalogue);
  const taken = measured ? "focal length as measured" : "focal length as marked, ±5 %";
  return {
    what: `Stop marked ${marked}`, figure: `${stopsWords(stops.value)} stop (${stopsWords(stops.low)} to ${stopsWords(stops.high)})`,
    words: `${STOP[judged]}; + is less light`, source: `${taken}, over the width of the hole seen from the front; 10 % in exposure: Washer 1948, J. SMPE 51(3)`,
  };
}

function cover(found: Found, piece: ReportPiece, catalogue: Shared): FitFigure {
  const circle = mm(found.one("lens.fit.circle", "image_circle"));
  const format = piece.format || "4x5";
  const area = imageArea(format, catalogue);
  const { covers, spare_mm: spare } = room(circle, area.width_mm, area.height_mm);
  const words = covers ? `covers it with ${fixed(spare, 0)}${GAP}mm to spare across the corners` : `misses its corners by ${fixed(-spare, 0)}${GAP}mm`;
  return {
    what: `Cover of ${catalogue.formats.find(({ id }) => id === format)!.title}`, figure: `${fixed(circle, 0)}${GAP}mm circle`, words,
    source: `the circle as claimed or tabled, not tested; picture size: ${area.source}; ${area.sureness}`,
  };
}

function read(reading: ReportReading, catalogue: Shared): Figure {
  return readFigure(mm(reading), coarsest([reading], catalogue));
}

function mm(reading: ReportReading): number {
  const found = lengthMm(reading.typed!);
  if (found === null) throw new RangeError("This is no length.");
  return found;
}

/** The least fine of the instruments used, with what a hand repeats within. Throws RangeError where one was not noted. */
function coarsest(readings: readonly ReportReading[], { terms }: Shared): Instrument {
  const used = readings.map(({ instrument }) => {
    const usual = terms.instruments.find(({ id }) => id === instrument?.kind);
    return { resolution_mm: instrument?.resolution_mm || usual?.resolution_mm, repeatability_mm: usual?.repeatability_mm } as Instrument;
  });
  return used.reduce((worst, one) => (instrumentU(one) > instrumentU(worst) ? one : worst));
}

function figureWords(figure: Figure, digits: number): string {
  const half = (figure.high - figure.low) / 2;
  return `${fixed(figure.value, digits)} ± ${fixed(half, Math.max(digits, 1))}${GAP}mm`.replace("-", "−");
}
