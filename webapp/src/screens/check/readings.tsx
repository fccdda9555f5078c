// Figures read off a tool at this check: typed in mm or inch, kept as typed, questioned when they cannot be.
import { useState } from "preact/hooks";
import type { Catalogue, Check, ReadingKind } from "../../domain/catalogue.ts";
import { places } from "../../domain/checks.ts";
import { parsePlace, readingId } from "../../domain/ids.ts";
import { parseLength, plausible } from "../../domain/lengths.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import type { Plain } from "../visit/view.ts";
import { placeWords } from "../visit/words.ts";
import { saveReading } from "./save.ts";

export interface ReadingsProps { check: Check; place: string; piece: Plain; visit: string; readings: readonly Rec[]; catalogue: Catalogue }

type Unit = "mm" | "in";

/** The tool in hand stays in hand from one check to the next. */
let lastTool = "ruler";

/** The places of a reading that lie at the check's current place: five points of one side, say. */
function placesHere(reading: ReadingKind, check: Check, place: string, piece: Plain): string[] {
  const axes = [...new Set([...check.axes, ...reading.axes])];
  const here = Object.entries(parsePlace(place));
  return places({ axes }, piece).filter((one) => {
    const parts = parsePlace(one);
    return here.every(([axis, value]) => parts[axis] === value);
  });
}

export function Readings(props: ReadingsProps) {
  const { check, place, piece, catalogue } = props;
  const store = useStore();
  const unit = useLive((from) => from.meta.get("unit"), []) ?? "mm";
  const instruments = catalogue.terms.instruments;
  const [tool, setTool] = useState(lastTool);
  const kinds = check.readings;
  if (kinds.length === 0) return null;
  const instrument = instruments.find((one) => one.id === tool) ?? instruments[0]!;
  const lengths = kinds.some((kind) => kind.unit === "mm");
  return (
    <section class="stack" aria-labelledby="readings">
      <div class="row">
        <h2 id="readings" class="grow">Readings</h2>
        {lengths && (
          <div class="source" role="group" aria-label="Unit">
            {(["mm", "in"] as const).map((one) => <button type="button" key={one} aria-pressed={unit === one} onClick={() => void store.meta.set("unit", one)}>{one === "mm" ? "mm" : "inch"}</button>)}
          </div>
        )}
      </div>
      {lengths && <PickField label="Read with" value={instrument.id} options={instruments.map((one) => ({ value: one.id, label: `${one.title}: ${one.hint}` }))} onPick={(id) => { lastTool = id; setTool(id); }} />}
      {kinds.flatMap((kind) => placesHere(kind, check, place, piece).map((where) => (
        <ReadingField key={`${kind.id} ${where} ${unit}`} {...props} kind={kind} where={where} unit={unit} instrument={{ kind: instrument.id, resolution_mm: instrument.resolution_mm ?? null }} />
      )))}
    </section>
  );
}

interface ReadingFieldProps extends ReadingsProps { kind: ReadingKind; where: string; unit: Unit; instrument: { kind: string; resolution_mm: number | null } }

function ReadingField({ check, place, visit, readings, kind, where, unit, instrument }: ReadingFieldProps) {
  const store = useStore();
  const length = kind.unit === "mm";
  const saved = readings.find(({ values }) => values["check"] === check.id && values["reading"] === kind.id && values["place"] === where);
  const [text, setText] = useState<string>(saved?.values["typed"].text ?? "");
  const [doubt, setDoubt] = useState<{ words: string; likely?: Unit; keep?: boolean } | null>(null);
  const shownUnit: string = saved?.values["typed"].unit ?? (length ? unit : kind.unit);

  const keep = (typed: string, as: string) => {
    setDoubt(null);
    const save = () => saveReading(store, { visit, check: check.id, place: where }, kind.id, { text: typed, unit: as, instrument }).then(
      () => showToast({ words: `${kind.title}: ${typed} ${as}` }), (error: unknown) => tellFailure(error, save));
    void save();
  };
  /** While it is still typed only what raises no question is kept. */
  const takeQuietly = (typed: string) => {
    if (typed.trim() === "" || typed.trim() === saved?.values["typed"].text) return;
    try {
      if (length && plausible(kind, parseLength(typed, unit))) return;
    } catch {
      return;
    }
    saveReading(store, { visit, check: check.id, place: where }, kind.id, { text: typed.trim(), unit: length ? unit : kind.unit, instrument }).catch((error: unknown) => tellFailure(error));
  };
  const take = (typed: string) => {
    if (typed.trim() === "" || typed.trim() === saved?.values["typed"].text) return;
    if (!length) {
      keep(typed.trim(), kind.unit);
      return;
    }
    try {
      const odd = plausible(kind, parseLength(typed, unit)) ;
      if (odd) setDoubt({ words: odd.message, likely: odd.likely_unit, keep: true });
      else keep(typed.trim(), unit);
    } catch (error) {
      setDoubt({ words: error instanceof Error ? error.message : "Type a number, as in 5.0 or 1 1/4." });
    }
  };
  const here = place.split(";");
  const beyond = placeWords(where.split(";").filter((part) => !here.includes(part)).join(";"));
  return (
    <div class="stack tight">
      <TextField label={`${kind.title}${beyond && `, ${beyond}`} (${length ? shownUnit : kind.unit})`} keyboard={kind.unit === "count" ? "numeric" : length && unit === "mm" ? "decimal" : "text"} value={text} max={40} wrong={doubt?.words} onInput={setText} onPause={takeQuietly} onDone={take} />
      <Versions record={readingId(visit, check.id, where, kind.id)} check={check.id} />
      {doubt?.keep && <Button onClick={() => keep(text.trim(), unit)}>Keep it as typed</Button>}
      {doubt?.likely && <Button onClick={() => keep(text.trim(), doubt.likely!)}>It was {doubt.likely === "in" ? "inches" : "millimetres"}</Button>}
    </div>
  );
}
