// What the depths of a set say: each side against the published figure, the spread, and which holders to keep together.
import type { Catalogue } from "../../domain/catalogue.ts";
import { holderChart } from "../../domain/holder_chart.ts";
import { emulsionDepth, type JudgedSet, type Stand } from "../../domain/holder_set.ts";
import type { LengthUnit } from "../../domain/lengths.ts";
import { MarkShape, type Tone } from "../../ui/mark.tsx";
import { Note } from "../../ui/notes.tsx";
import { DepthChart } from "./depth_chart.tsx";
import { type SetResult, setOf, type SideResult } from "./depth_sides.ts";
import { lengthWords, plainWords } from "./figure_words.ts";

const STANDS: Readonly<Record<Stand, { word: string; tone: Tone }>> = {
  within: { word: "within the published depth", tone: "good" },
  too_deep: { word: "too deep", tone: "bad" },
  too_shallow: { word: "too shallow", tone: "bad" },
  cannot_tell: { word: "too near a limit to tell", tone: "unsure" },
  no_standard: { word: "no published figure here", tone: "none" },
};

const FIT: Readonly<Record<JudgedSet["fit"], string>> = {
  within: "Every side measured lies within the published depth.",
  agrees: "The sides miss the published depth but agree among themselves: the set works on a camera whose screen is set to it.",
  strays: "The sides neither keep the published depth nor agree among themselves.",
  outside: "Not every side measured lies within the published depth.",
  cannot_tell: "Whether every side lies within the published depth cannot be told with this measurement.",
  no_standard: "No depth is published for this format: the sides can only be held against each other.",
};

export interface DepthResultsProps { sides: readonly SideResult[]; format: string | null; catalogue: Catalogue; unit: LengthUnit }

export function DepthResults({ sides, format, catalogue, unit }: DepthResultsProps) {
  const set = setOf(sides, format, catalogue);
  if (!set) return <p class="soft">The first figure shows here what it means.</p>;
  const { judged } = set;
  const standard = catalogue.standards.find((one) => one.quantity === "holder_depth" && one.applies.format === format);
  const chart = holderChart(sides.map(({ place, label, shape }) => ({ place, label, mean_mm: shape.mean_mm })), format, catalogue, unit);
  const standOf = (place: string) => STANDS[judged.sides.find((one) => one.place === place)!.stands];
  const fit = judged.fit === "no_standard" && format === null ? "Say the format first: the published depth hangs on it." : FIT[judged.fit];
  const words = sides.map(({ place, label, shape }) => `${label}: ${lengthWords(shape.mean_mm, unit)}, ${standOf(place).word}`).join("; ");
  return (
    <>
      <section class="stack tight" aria-labelledby="set">
        <h2 id="set">The set</h2>
        <p class="card lit">{fit} {sides.length > 1 && `Spread over ${sides.length} sides: ${lengthWords(judged.spread_mm, unit)}.`}</p>
        <DepthChart chart={chart} words={`Mean depth of each side in ${unit}. ${words}.`} />
        {standard
          ? <p class="small soft">Band: {standard.as_printed}, from the seating face to the divider. {standard.source}. Sureness: {standard.sureness}.</p>
          : format !== null && <p class="small soft">No published depth was found for this format.</p>}
      </section>
      {sides.length > 1 && <Together set={set} unit={unit} />}
      <Emulsion sides={sides} catalogue={catalogue} unit={unit} />
      <details class="fold">
        <summary>Each side ({sides.length})</summary>
        <ul class="inside lines">
          {sides.map(({ place, label, shape }) => (
            <li key={place} class="line depth-side">
              <MarkShape tone={standOf(place).tone} />
              <span>
                <span class="name figures">{label}: {lengthWords(shape.mean_mm, unit)}</span>
                <span class="under">{standOf(place).word}; {shape.n === 1 ? "one point" : `${shape.n} points, ${plainWords(shape.spread_mm, unit)} between them`}</span>
                {shape.tilt && <span class="under">tilt over the corners {lengthWords(shape.tilt.corner_mm, unit)}{shape.notable.includes("tilt") ? "" : ", not to be told from none"}</span>}
                {shape.dish_mm && <span class="under">middle against corners {lengthWords(shape.dish_mm, unit, { signed: true })}{shape.notable.includes("dish") ? "" : ", not to be told from flat"}</span>}
              </span>
            </li>
          ))}
        </ul>
      </details>
      <p class="small soft">Intervals hold about 95 times in 100: half a step of the tool as it can fall anywhere, and how well a hand repeats with it (common practice, no source).</p>
    </>
  );
}

function Together({ set: { judged, span_mm, rule_source }, unit }: { set: SetResult; unit: LengthUnit }) {
  return (
    <section class="stack tight" aria-labelledby="together">
      <h2 id="together">Keep together</h2>
      <ol class="stack tight">
        {judged.groups.map((group, index) => (
          <li key={group.holders.join()} class="card">
            <strong>{index === 0 ? "First choice" : `Group ${index + 1}`}: {group.holders.length === 1 ? "holder" : "holders"} {group.holders.join(", ")}</strong>
            <span class="under"> within {plainWords(group.spread_mm, unit)} of each other; a screen set to {plainWords(group.middle_mm, unit)} less the film serves them.</span>
          </li>
        ))}
      </ol>
      {judged.apart.length > 0 && <Note tone="care" title={`Apart: ${judged.apart.map(({ holder, spread_mm }) => `${holder} (${plainWords(spread_mm, unit)} between its sides)`).join(", ")}`}><p>Use one side only, or stop well down.</p></Note>}
      <p class="small soft">The rule: all sides of a group lie within {plainWords(span_mm, unit)} of each other, one tolerance of the published depth, so that one setting of the screen serves them all. The largest group is taken first, then the largest of what is left. ({rule_source})</p>
    </section>
  );
}

/** Where film may lie in the set: it floats in its slot. */
function Emulsion({ sides, catalogue, unit }: { sides: readonly SideResult[]; catalogue: Catalogue; unit: LengthUnit }) {
  const valueOf = (id: string) => catalogue.standards.find((one) => one.id === id)!;
  const [film, slot] = [valueOf("film_thickness.usual"), valueOf("film_slot.sheet")];
  const found = sides.map(({ shape }) => emulsionDepth(shape.mean_mm, film.value, slot.value));
  const low = Math.min(...found.map(({ low_mm }) => low_mm));
  const high = Math.max(...found.map(({ high_mm }) => high_mm));
  return (
    <details class="fold">
      <summary>Where the emulsion lies</summary>
      <div class="inside stack tight">
        <p>Anywhere from {plainWords(low, unit)} to {plainWords(high, unit)} below the seating face: film of {film.as_printed} lies on the divider or floats up to the lips.</p>
        <p class="small soft">Film: {film.source} ({film.sureness}). Slot {slot.as_printed}: {slot.source} ({slot.sureness}).</p>
      </div>
    </details>
  );
}
