// Straight and square by simple means: standards from four gaps, a slide on a table, a divider under a straightedge.
import { circleOfConfusion } from "../../domain/focus_blur.ts";
import { imageArea } from "../../domain/coverage.ts";
import { dividerBow, outOfParallel, parallelEffect, slideGap } from "../../domain/straightness.ts";
import { type Instrument, instrumentU } from "../../domain/uncertainty.ts";
import { PickField } from "../../ui/field.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { lengthWords, stopWords } from "./figure_words.ts";
import { type Asked, mmIn, reckon } from "./plan.ts";
import { NotYet } from "./not_yet.tsx";
import { type Desk, ToolFrame } from "./tool_frame.tsx";

const CORNERS = ["top_left", "top_right", "bottom_left", "bottom_right"] as const;
const SLIDE_CHECK = "holders.light.slide";
const PLAN: readonly Asked[] = [
  ...CORNERS.map((corner): Asked => ({ id: corner, measure: "gap_mm", label: `Gap between the standards, ${corner.replaceAll("_", " ")}`, reading: { check: "camera.movements.zero", reading: "gap", place: `corner=${corner}` } })),
  { id: "slide", measure: "feeler_mm", label: "Under a slide on a flat table", hint: "What just slips under its highest spot", reading: { check: SLIDE_CHECK, reading: "slide_gap" }, optional: true },
  { id: "divider", measure: "feeler_mm", label: "Under a straightedge on the divider", hint: "At its deepest spot", optional: true },
];

/** At a check only what belongs to its piece is asked for; a slide is the one of the holder and side looked at. */
function planFor(check: string | undefined, place: string): readonly Asked[] {
  if (check === SLIDE_CHECK) return PLAN.filter(({ id }) => id === "slide").map((one) => ({ ...one, optional: false, reading: { ...one.reading!, place } }));
  if (check?.startsWith("camera.")) return PLAN.filter(({ optional }) => !optional);
  return check?.startsWith("holders.") ? PLAN.filter(({ id }) => id === "divider") : PLAN;
}

export default function Straightness(input: ScreenInput) {
  return (
    <ToolFrame input={input} name="straightness" title="Straight and square" withTool plan={planFor(input.query["check"], input.query["place"] ?? "")} about="Four gaps with everything at zero; a feeler under a slide; a straightedge over a divider."
      choices={({ words, set, catalogue }) => <PickField label="Format" value={words["format"] ?? "4x5"} options={catalogue.formats.map(({ id, title }) => ({ value: id, label: title }))} onPick={(format) => set({ format })} />}>
      {(desk) => <Result {...desk} />}
    </ToolFrame>
  );
}

/** Four gaps may have been read with several tools: the least fine speaks for all. */
function coarsest(instruments: readonly Instrument[]): Instrument {
  return instruments.reduce((worst, one) => (instrumentU(one) > instrumentU(worst) ? one : worst));
}

function Result({ words, unit, catalogue, readWith }: Desk) {
  const format = words["format"] ?? "4x5";
  const circle = circleOfConfusion(format, "circle_of_confusion.1750", catalogue);
  const stops = catalogue.iris_scales.find(({ id }) => id === "f")!.marks.map(({ n }) => n).filter((n) => n >= 4 && n < 64);
  const standards = reckon(() => {
    const gaps = CORNERS.map((corner) => [corner, mmIn(words, corner, unit)] as const);
    if (gaps.some(([, mm]) => mm === null)) return null;
    const out = outOfParallel(Object.fromEntries(gaps) as Record<string, number>, coarsest(CORNERS.map(readWith)));
    return { out, effect: parallelEffect(out.across_mm, stops, circle.mm) };
  });
  const slide = reckon(() => { const mm = mmIn(words, "slide", unit); return mm === null ? null : slideGap(mm, imageArea(format, catalogue).height_mm, readWith("slide")); });
  const divider = reckon(() => { const mm = mmIn(words, "divider", unit); return mm === null ? null : dividerBow(mm, readWith("divider"), stops, circle.mm); });
  const goneWords = (likely: number | null, surely: number | null) => likely === null ? "shows at every usual stop" : `is gone at ${stopWords(likely, catalogue)}${surely === null ? "" : surely === likely ? "" : `, surely at ${stopWords(surely, catalogue)}`}`;
  if (!standards && !slide && !divider) return <NotYet words="Type four gaps, or one of the others." />;
  const wrong = [standards, slide, divider].find((one) => one && "wrong" in one);
  return (
    <section class="stack" aria-labelledby="result">
      <h2 id="result">What it comes to</h2>
      {wrong && "wrong" in wrong && <NotYet wrong={wrong.wrong} words="" />}
      {standards && "value" in standards && (
        <div class="card lit stack tight">
          <p>Standards out by <strong class="figures">{lengthWords(standards.value.out.across_mm, unit)}</strong> over the gaps: {standards.value.effect.harmless ? "under 1 mm, which never matters." : `half of it at each edge; the blur ${goneWords(standards.value.effect.likely, standards.value.effect.surely)}.`}</p>
          <p>Turned {lengthWords(standards.value.out.swing_mm, unit, { signed: true })} (right less left), tilted {lengthWords(standards.value.out.tilt_mm, unit, { signed: true })} (bottom less top); twist {lengthWords(standards.value.out.twist_mm, unit, { signed: true })}, which no turning takes out.</p>
        </div>
      )}
      {slide && "value" in slide && <p class="card">{slide.value.bow === "flat" ? "The slide is flat enough." : slide.value.bow === "bowed" ? "The slide is bowed: it drags, and may hold its slot open. Try it with a lamp." : "Too near to tell flat from bowed with this tool."} Gap {lengthWords(slide.value.gap_mm, unit)}.</p>}
      {divider && "value" in divider && <p class="card">Film that lies on the divider follows it by {lengthWords(divider.value.error_mm, unit)}: the blur {goneWords(divider.value.likely, divider.value.surely)}.</p>}
      <p class="small soft">Blur against a circle of {circle.as_printed} ({circle.source}, {circle.sureness}). A slide counts as flat within 1 mm in 200: common practice, no source. Under 1 mm across never matters: arithmetic.</p>
    </section>
  );
}
