// What screen and film amount to: the error, what to shim, blur at each stop, and the drawing to scale.
import { useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import { blurAt, goneAt } from "../../domain/focus_blur.ts";
import type { LengthUnit } from "../../domain/lengths.ts";
import { fixed } from "../../domain/rounding.ts";
import { PickField } from "../../ui/field.tsx";
import { lengthWords, plainWords } from "./figure_words.ts";
import { type FocusResult, type FocusWords, mostlyTolerance } from "./focus_input.ts";
import { FocusPicture } from "./focus_picture.tsx";
import { FocusStack } from "./focus_stack.tsx";
import { errorWords, goneWords, shimWords } from "./focus_words.ts";

const GONE = { yes: "does not show", no: "shows", perhaps: "may show" } as const;

/** Whole stops from f/4 to f/45, with the figure they are marked with. */
function stopsOf({ iris_scales }: Catalogue): { mark: string; n: number }[] {
  return iris_scales.find(({ id }) => id === "f")!.marks.filter(({ n }) => n >= 4 && n < 64).map(({ texts, n }) => ({ mark: texts[0]!, n }));
}

export interface FocusResultsProps { result: FocusResult; words: FocusWords; catalogue: Catalogue; unit: LengthUnit }

export function FocusResults({ result, words, catalogue, unit }: FocusResultsProps) {
  const stops = stopsOf(catalogue);
  const [picked, setPicked] = useState("5.6");
  const { error_mm } = result.found;
  const rows = blurAt(error_mm, stops.map(({ n }) => n), result.circle.mm);
  const gone = goneAt(error_mm, stops.map(({ n }) => n), result.circle.mm);
  const standard = catalogue.standards.find((one) => one.quantity === "holder_depth" && one.applies.format === words.format);
  return (
    <section class="stack" aria-labelledby="result">
      <h2 id="result">What it comes to</h2>
      <div class="card lit stack tight">
        <p><strong class="figures">{lengthWords(error_mm, unit, { signed: true })}</strong> screen less film</p>
        <p>{errorWords(result)}</p>
        <p>{goneWords(gone, catalogue)}</p>
      </div>
      {mostlyTolerance(words, result) && <p>Most of this interval is the tolerance of the published holder. Measure your own holders to narrow it.</p>}
      <FocusStack result={result} between={words.between} unit={unit} />
      <p class="small soft">The back from the side, all to one scale; what is behind the matte face is drawn 2 mm thick. Below, the same two planes drawn larger.</p>
      <FocusPicture result={result} n={stops.find(({ mark }) => mark === picked)!.n} mark={picked} />
      <PickField label="Drawn at" value={picked} options={stops.map(({ mark }) => ({ value: mark, label: `f/${mark}` }))} onPick={setPicked} />
      <p><strong>What to do.</strong> {shimWords(result, unit)} Then focus a far edge with a loupe and look again with a cut-away film in a holder.</p>
      <table class="blur-table">
        <caption>Blur on the film, and whether it passes a circle of {plainWords(result.circle.mm, "mm")}</caption>
        <thead><tr><th scope="col">Stop</th><th scope="col">Disc, mm</th><th scope="col">It</th></tr></thead>
        <tbody>{rows.map(({ n, blur_mm, gone: is }, index) => <tr key={n} class={is}><th scope="row">f/{stops[index]!.mark}</th><td class="figures">{fixed(blur_mm.value, 3)} ({fixed(blur_mm.low, 3)}–{fixed(blur_mm.high, 3)})</td><td>{GONE[is]}</td></tr>)}</tbody>
      </table>
      <details class="fold">
        <summary>How this was reckoned</summary>
        <div class="inside stack tight small">
          <p>Screen focuses at {lengthWords(result.screen_mm, unit)}; film lies at {lengthWords(result.film_mm, unit)}, both from the seating face.</p>
          {result.layers.map((layer) => <p key={layer.index}>A sheet of {plainWords(layer.thickness_mm, unit)}, index {fixed(layer.index, 2)} ± 0.04, moves the plane by {plainWords(layer.shift_mm, unit)}: t·(1 − 1/n).</p>)}
          <p>Blur is error over f-number; it is gone at error over circle. Circle of confusion {result.circle.as_printed}: {result.circle.source} ({result.circle.sureness}).</p>
          {words.divider_from === "standard" && standard && <p>Depth to the divider {standard.as_printed}: {standard.source} ({standard.sureness}); its tolerance is taken as spread evenly.</p>}
          <p>Film is taken to lie on the divider. It can float forward in its slot by the play it has, about 0.13 mm for usual film.</p>
        </div>
      </details>
    </section>
  );
}
