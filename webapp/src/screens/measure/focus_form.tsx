// What is asked for screen and film: depth of the screen, what lies before it, the holder, the film and the disc that counts as sharp.
import { useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import { showLength } from "../../domain/lengths.ts";
import { fixed } from "../../domain/rounding.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { type Between, doubtOf, type FocusWords, standardDivider, USUAL_INDEX, type Wrong } from "./focus_input.ts";
import type { KnownDepth } from "./known_depths.ts";

const BETWEEN: readonly { value: Between; label: string }[] = [
  { value: "nothing", label: "Nothing: the matte side faces the lens" },
  { value: "fresnel", label: "A ringed sheet (fresnel)" },
  { value: "clear_sheet", label: "A clear sheet" },
  { value: "reversed", label: "The glass itself: it is the wrong way round" },
];
const CIRCLES = ["circle_of_confusion.1750", "circle_of_confusion.1730", "circle_of_confusion.1500", "circle_of_confusion.contact"];

export interface FocusFormProps {
  words: FocusWords;
  wrong: Wrong;
  catalogue: Catalogue;
  set: (change: Partial<FocusWords>) => void;
  /** Called once a depth of the screen, or a sheet's thickness, stands: the place to keep it. */
  onScreen: (text: string, unit: "mm" | "in", onPurpose?: boolean) => void;
  onSheet: (text: string, unit: "mm" | "in", onPurpose?: boolean) => void;
  /** Several points were measured at the check; they are changed there. */
  screenHint?: string;
  /** Holders measured already. */
  known: readonly KnownDepth[];
}

export function FocusForm({ words, wrong, catalogue, set, onScreen, onSheet, screenHint, known }: FocusFormProps) {
  const unitWord = words.unit === "in" ? "inch" : "mm";
  const published = standardDivider(words.format, catalogue) !== null;
  const [sure, setSure] = useState<readonly string[]>([]);
  const asked = (field: "screen" | "sheet" | "divider" | "film", text: string, take: (text: string, unit: "mm" | "in") => void) => {
    const unit = field === "film" ? "mm" : words.unit;
    const key = `${field} ${text}`;
    const doubt = sure.includes(key) ? null : doubtOf(field, text, unit, catalogue);
    const keep = doubt?.keep && <Button onClick={() => { setSure([...sure, key]); if (field === "screen") onScreen(text, unit, true); if (field === "sheet") onSheet(text, unit, true); }}>Keep it as typed</Button>;
    return {
      wrong: wrong[field] ?? doubt?.message ?? null,
      mend: (
        <div class="row">
          {doubt?.likely_unit && doubt.likely_unit !== unit && <Button onClick={() => take(text, doubt.likely_unit!)}>It was {doubt.likely_unit === "in" ? "inches" : "millimetres"}</Button>}
          {keep}
        </div>
      ),
    };
  };
  const mended = (field: "screen" | "sheet" | "divider" | "film") => (text: string, unit: "mm" | "in") => {
    const said = `${text} ${unit}`;
    set(field === "screen" ? { screen: [said] } : { [field]: said });
    if (field === "screen") onScreen(text, unit);
    if (field === "sheet") onSheet(text, unit);
  };
  const screen = asked("screen", words.screen.length === 1 ? words.screen[0]! : "", mended("screen"));
  const sheet = asked("sheet", words.sheet, mended("sheet"));
  const divider = asked("divider", words.divider, mended("divider"));
  const film = asked("film", words.film, mended("film"));
  return (
    <section class="stack" aria-label="What was measured">
      <PickField label="Format" value={words.format} options={catalogue.formats.map(({ id, title }) => ({ value: id, label: title }))} onPick={(format) => set({ format })} />
      {words.screen.length > 1
        ? <p><strong>Screen:</strong> mean of {words.screen.length} points. {screenHint}</p>
        : <TextField label={`Seat of the holder to the screen (${unitWord})`} hint="From the face the holder sits on" keyboard="decimal" value={words.screen[0] ?? ""} max={40} wrong={screen.wrong} onInput={(text) => set({ screen: [text] })} onDone={(text) => onScreen(text, words.unit)} />}
      {screen.mend}
      <PickField label="Read with" value={words.tool} options={catalogue.terms.instruments.map((one) => ({ value: one.id, label: `${one.title}: ${one.hint}` }))} onPick={(tool) => set({ tool })} />
      <PickField label="Between lens and matte side" value={words.between} options={BETWEEN} onPick={(value) => set({ between: value as Between, index: USUAL_INDEX[value as Between] })} />
      {words.between !== "nothing" && (
        <>
          <TextField label={`Thickness of the ${words.between === "reversed" ? "glass" : "sheet"} (${unitWord})`} keyboard="decimal" value={words.sheet} max={40} wrong={sheet.wrong} onInput={(text) => set({ sheet: text })} onDone={(text) => onSheet(text, words.unit)} />
          {sheet.mend}
          <TextField label="Its index" hint="Glass about 1.52, acrylic 1.49" keyboard="decimal" value={words.index} max={8} wrong={wrong["index"]} onInput={(index) => set({ index })} />
          {words.between !== "reversed" && <PickField label="The gauge stood" value={words.measured_to} options={[{ value: "matte", label: "At the matte side, the sheet out" }, { value: "front", label: "On the sheet" }]} onPick={(value) => set({ measured_to: value as "matte" | "front" })} />}
          {words.between === "reversed" && <p class="small soft">The depth is taken to the smooth side, which faces the lens.</p>}
        </>
      )}
      <PickField label="Depth of the holders" value={words.divider_from} options={[{ value: "standard", label: published ? "As published for this format" : "As published (nothing found for this format)" }, { value: "typed", label: "My own, measured" }]} onPick={(value) => set({ divider_from: value as "standard" | "typed" })} />
      {words.divider_from === "standard" && wrong["divider"] && <p class="wrong" role="alert">{wrong["divider"]}</p>}
      {words.divider_from === "typed" && <TextField label={`Seating face to divider (${unitWord})`} keyboard="decimal" value={words.divider} max={40} wrong={divider.wrong} onInput={(text) => set({ divider: text })} />}
      {words.divider_from === "typed" && divider.mend}
      {known.map(({ title, mm }) => <Button key={title} onClick={() => set({ divider_from: "typed", divider: `${fixed(mm, 3)} mm` })}>Take {title}: {showLength(mm, words.unit)}</Button>)}
      <details class="fold" open={film.wrong !== null}>
        <summary>Film, and what counts as sharp</summary>
        <div class="inside stack">
          <TextField label="Film (mm)" hint="Usual base 0.18 mm (7 mil), from film data sheets" keyboard="decimal" value={words.film} max={12} wrong={film.wrong} onInput={(text) => set({ film: text })} />
          {film.mend}
          <PickField label="Counts as sharp" value={words.circle} options={CIRCLES.map((id) => ({ value: id, label: catalogue.standards.find((one) => one.id === id)!.as_printed }))} onPick={(circle) => set({ circle })} />
        </div>
      </details>
    </section>
  );
}
