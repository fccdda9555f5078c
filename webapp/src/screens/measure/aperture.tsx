// Aperture: the entrance pupil against the marked stop, and which scale the marks are in; in a visit or at the bench.
import { apertureError, equivalentDiameter, focalFigure, fNumber, polygonArea, scaleOfOtherLens, slotArea } from "../../domain/aperture.ts";
import { type LengthUnit, MM_PER_INCH } from "../../domain/lengths.ts";
import { recogniseScale, stopNumber } from "../../domain/iris_scale.ts";
import { fixed } from "../../domain/rounding.ts";
import { type Figure, readFigure, standardU } from "../../domain/uncertainty.ts";
import { PickField } from "../../ui/field.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { lengthWords } from "./figure_words.ts";
import { type Asked, mmIn, reckon } from "./plan.ts";
import { PupilPhoto } from "./pupil_photo.tsx";
import { NotYet } from "./not_yet.tsx";
import { type Desk, ToolFrame } from "./tool_frame.tsx";

const CHECK = "lens.iris.f_number";
const PLAN: readonly Asked[] = [
  { id: "focal", measure: "focal_mm", label: "Focal length as marked", reading: { check: "lens.fit.focal", reading: "focal_marked" } },
  { id: "mark", label: "Stop it is set to, as marked", hint: "As in 8 or 6.3", reading: { check: CHECK, reading: "marked_stop" } },
  { id: "pupil", measure: "pupil_mm", label: "Width of the hole seen from the front", hint: "One eye shut, ruler against the front rim, from arm's length", reading: { check: CHECK, reading: "pupil" } },
  { id: "across", measure: "pupil_mm", label: "The other way across", hint: "Only if the hole is not round", optional: true },
  { id: "edges", label: "Edges of the hole", hint: "Only where few leaves make corners: how many; the width is then from corner to corner", optional: true },
  { id: "plate", measure: "focal_mm", label: "Length on the scale plate", hint: "The focal length it names, if it names one", optional: true },
  { id: "marks", label: "All marks on the ring, widest first", hint: "As in 4.5 6.3 9 12.5: tells which scale it is", optional: true },
];
const JUDGED = {
  agrees: "It agrees with its mark, as well as real marks ever do.",
  less_light: "It gives less light than marked.",
  more_light: "It gives more light than marked.",
  cannot_tell: "Measured like this, the difference cannot be told from none.",
} as const;

export default function Aperture(input: ScreenInput) {
  return (
    <ToolFrame input={input} name="aperture" title="Aperture" withTool plan={PLAN}
      about="Set a stop, look into the front of the lens, and measure how wide the hole looks. Focal length over that width is the true stop."
      choices={({ words, set, catalogue }) => (
        <PickField label="Scale of the marks" value={words["scale"] ?? ""} options={[{ value: "", label: "Tell it by the marks" }, ...catalogue.iris_scales.map(({ id, title }) => ({ value: id, label: title }))]} onPick={(scale) => set({ scale })} />
      )}>
      {(desk) => <Result {...desk} />}
    </ToolFrame>
  );
}

function Result({ words, unit, catalogue, readWith, put, visit }: Desk) {
  const take = (pupil: Figure) => put("pupil", `${fixed(unit === "in" ? pupil.value / MM_PER_INCH : pupil.value, unit === "in" ? 3 : 2)} ${unit}`, asRuler(pupil));
  const marks = (words["marks"] ?? "").split(/[\s;]+/).filter(Boolean);
  const told = recogniseScale(marks, catalogue);
  const scaleId = words["scale"] || told.scale || "f";
  const scale = catalogue.iris_scales.find(({ id }) => id === scaleId)!;
  const found = reckon(() => {
    const focal = mmIn(words, "focal", unit);
    const pupil = mmIn(words, "pupil", unit);
    const mark = words["mark"]?.trim();
    if (focal === null || pupil === null || !mark) return null;
    const wide = asRound(pupil, mmIn(words, "across", unit), words["edges"]?.trim() ?? "");
    const read = readFigure(pupil, readWith("pupil"));
    const share = wide / pupil;
    const seen = { value: wide, low: read.low * share, high: read.high * share };
    const n = fNumber(focalFigure(focal, catalogue), seen);
    const exact = stopNumber(mark, scaleId, catalogue);
    return { n, seen, exact, error: apertureError(n, exact, catalogue) };
  });
  const plate = reckon(() => {
    const focal = mmIn(words, "focal", unit);
    const named = mmIn(words, "plate", unit);
    return focal === null || named === null ? null : { out: scaleOfOtherLens(named, focal), focal, named };
  });
  const scaleWords = marks.length === 0 ? null : told.scale ? `By its marks: ${scale.title}.` : told.may_be.length > 1 ? "The marks fit more than one scale." : "The marks follow none of the scales known here.";
  const odd = told.odd.length > 0 ? ` Not a number: ${told.odd.join(", ")}.` : "";
  return (
    <section class="stack" aria-labelledby="result">
      <PupilPhoto unit={unit} spot={visit === null ? null : { visit, check: CHECK, place: "" }} onPupil={take} />
      <h2 id="result">What it comes to</h2>
      {scaleWords && <p>{scaleWords}{odd}{scale.counts_exposure && ` A mark of ${words["mark"] || "16"} there is f/${fixed(stopNumber(words["mark"] || "16", "uniform", catalogue), 1)}.`}</p>}
      {plate && ("value" in plate ? <p>{plateWords(plate.value, unit)}</p> : <NotYet wrong={plate.wrong} words="" />)}
      {found && "value" in found ? (
        <div class="card lit stack tight">
          <p><strong class="figures">f/{fixed(found.value.n.value, 2)}</strong> (f/{fixed(found.value.n.low, 2)} to f/{fixed(found.value.n.high, 2)}), marked for f/{fixed(found.value.exact, 2)}</p>
          <p><strong class="figures">{stops(found.value.error.stops.value)} stop</strong> ({stops(found.value.error.stops.low)} to {stops(found.value.error.stops.high)}); + is less light</p>
          <p>{JUDGED[found.value.error.judged]}</p>
        </div>
      ) : <NotYet wrong={found?.wrong} words="Type focal length, mark and width of the hole." />}
      <p class="small soft">{found && "value" in found && `Hole ${lengthWords(found.value.seen, unit)}. `}The focal length is taken as marked, ±5 % (a metrology newspaper on a national inspection rule, fair); real marked stops may be off by 10 % in exposure (Washer 1948, J. SMPE 51(3), sure). {scale.title}: {scale.source} ({scale.sureness}).</p>
    </section>
  );
}

// A reading's step can be at most this, by the shape of its record.
const WIDEST_STEP_MM = 10;

/** The ruler in a photo as an instrument: its step is what gives the interval that the taps left. */
function asRuler(pupil: Figure) {
  return { id: "ruler", resolution_mm: Math.min(WIDEST_STEP_MM, Number(fixed(standardU(pupil) * 2 * Math.sqrt(3), 3))), repeatability_mm: 0 };
}

/** The diameter of the round hole that lets as much light through, in mm. */
function asRound(pupilMm: number, acrossMm: number | null, edges: string): number {
  if (edges !== "") return equivalentDiameter(polygonArea(Number(edges), pupilMm));
  return acrossMm === null ? pupilMm : equivalentDiameter(slotArea(pupilMm, acrossMm));
}

/** What it does to every mark if the scale was made for another lens (2·log2 of the two lengths, trade notes L2). */
function plateWords({ out, focal, named }: { out: number; focal: number; named: number }, unit: LengthUnit): string {
  if (named === focal) return "The scale plate names this focal length: it belongs to this lens.";
  const [plate, lens] = [named, focal].map((mm) => `${Number(fixed(unit === "in" ? mm / MM_PER_INCH : mm, 2))} ${unit}`);
  return `A scale for ${plate} on a lens of ${lens}: every mark gives ${fixed(Math.abs(out), 2)} stop ${out > 0 ? "less" : "more"} light than it says. A table on the board puts it right.`;
}

function stops(value: number): string {
  return `${value > 0 ? "+" : ""}${fixed(value, 2).replace("-", "−")}`;
}
