// The frame of a small bench tool: its fields, kept as readings in a visit or on this phone at the bench, and what they come to.
import { useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import type { LengthUnit } from "../../domain/lengths.ts";
import type { Instrument } from "../../domain/uncertainty.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { saveReading } from "../check/save.ts";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { useVisit } from "../visit/use_visit.ts";
import { useWayBack } from "../visit/way_back.ts";
import { withUnit } from "./focus_input.ts";
import "./measure.css";
import { type Asked, doubtIn, instrumentsOf, type ReadWith, typedIn, type Words, wordsOf } from "./plan.ts";
import { UnitPick } from "./unit_pick.tsx";

type Tool = Instrument & { readonly id: string; readonly resolution_mm: number };

export interface Desk {
  readonly words: Words;
  readonly unit: LengthUnit;
  readonly catalogue: Catalogue;
  /** In the hand now. */
  readonly tool: Tool;
  /** What a figure was read with: as its reading says, else the tool in the hand. */
  readonly readWith: (id: string) => Instrument;
  readonly set: (change: Record<string, string>) => void;
  /** Puts a figure that was not typed into its field and keeps it as a reading. */
  readonly put: (id: string, text: string, instrument: Tool) => void;
  /** Null at the bench. */
  readonly visit: string | null;
}

export interface ToolProps {
  input: ScreenInput;
  name: string;
  title: string;
  about: string;
  plan: readonly Asked[];
  /** Whether what a figure was read with matters here. */
  withTool?: boolean;
  /** Choices before the fields. */
  choices?: (desk: Desk) => preact.ComponentChildren;
  children: (desk: Desk) => preact.ComponentChildren;
}

const USUAL_TOOL = "ruler";

export function ToolFrame(props: ToolProps) {
  return props.input.params["visit"] === undefined ? <AtTheBench {...props} /> : <InVisit {...props} visit={props.input.params["visit"]} />;
}

function AtTheBench(props: ToolProps) {
  const catalogue = useCatalogue();
  const store = useStore();
  const kept = useLive(async (from) => ((await from.meta.get("bench_sheets")) ?? {})[props.name] ?? {}, []);
  if (!catalogue || !kept) return <Waiting />;
  const keep = async (words: Words) => store.meta.set("bench_sheets", { ...((await store.meta.get("bench_sheets")) ?? {}), [props.name]: { ...words } });
  return <Fields {...props} start={kept} catalogue={catalogue} over="At the bench, without a session" back="#/bench" backWord="Back to the bench"
    onWords={(words) => { keep(words).catch((error: unknown) => tellFailure(error)); }} />;
}

function InVisit({ visit, ...props }: ToolProps & { visit: string }) {
  const ready = useVisit(visit);
  const { check, place } = props.input.query;
  const wayBack = useWayBack(visit, check, place);
  const store = useStore();
  // What no reading takes (a focal length in mind, a figure still in doubt) waits on this phone, for the visit last measured at.
  const slot = `${props.name} in a visit`;
  const sheet = useLive(async (from) => ((await from.meta.get("bench_sheets")) ?? {})[slot] ?? {}, [slot]);
  if (ready === null) return <Missing />;
  if (!ready || !sheet) return <Waiting />;
  const { view, catalogue } = ready;
  const hold = async (words: Words) => store.meta.set("bench_sheets", { ...((await store.meta.get("bench_sheets")) ?? {}), [slot]: { ...words, visit } });
  const format = view.piece.values["format"] as string | null | undefined;
  const keep = ({ reading, measure }: Asked, text: string, unit: LengthUnit, tool: Tool) => {
    if (!reading || text.trim() === "") return;
    const typed = measure ? typedIn(text, unit) : { text: text.trim(), unit: "text" };
    const spot = { visit, check: reading.check, place: reading.place ?? "" };
    const save = () => saveReading(store, spot, reading.reading, { ...typed, instrument: { kind: tool.id, resolution_mm: tool.resolution_mm } }).catch((error: unknown) => tellFailure(error, () => void save()));
    void save();
  };
  const read = wordsOf(props.plan, view.readings);
  return <Fields {...props} start={{ ...(sheet["visit"] === visit ? sheet : {}), ...(format ? { format } : {}), ...read }} sure={read} readWith={instrumentsOf(props.plan, view.readings, catalogue)} visit={visit} catalogue={catalogue} over={pieceTitle(view.piece)}
    {...wayBack} onKeep={keep}
    onWords={(words) => { hold(words).catch((error: unknown) => tellFailure(error)); }} />;
}

interface FieldsProps extends ToolProps {
  start: Words;
  /** Kept on purpose before, so not asked about again. */
  sure?: Words;
  readWith?: Record<string, ReadWith>;
  catalogue: Catalogue;
  over: string;
  back: string;
  backWord: string;
  onWords?: (words: Words) => void;
  onKeep?: (asked: Asked, text: string, unit: LengthUnit, tool: Tool) => void;
  visit?: string | null;
}

function Fields({ title, about, plan, withTool, choices, children, start, sure: known = {}, readWith: noted = {}, visit = null, catalogue, over, back, backWord, onWords, onKeep }: FieldsProps) {
  const store = useStore();
  const unit = useLive(async (from) => (await from.meta.get("unit")) ?? "mm", []);
  const [words, setWords] = useState(start);
  const [sure, setSure] = useState(known);
  const [marked, setMarked] = useState(noted);
  if (unit === undefined) return <Waiting />;
  const set = (change: Record<string, string>) => {
    const next = { ...words, ...change };
    setWords(next);
    onWords?.(next);
  };
  const { instruments } = catalogue.terms;
  const tool = instruments.find(({ id }) => id === (words["tool"] ?? USUAL_TOOL))!;
  const lengths = plan.filter(({ measure }) => measure && catalogue.measures.find((one) => one.id === measure)!.unit === "mm");
  const turn = (one: LengthUnit) => {
    set(Object.fromEntries(lengths.map(({ id }) => [id, withUnit(words[id] ?? "", unit)])));
    store.meta.set("unit", one).catch((error: unknown) => tellFailure(error));
  };
  const readWith = (id: string) => (marked[id] && marked[id].text === words[id] ? marked[id].instrument : tool);
  const put = (id: string, text: string, instrument: Tool) => {
    set({ [id]: text });
    setMarked({ ...marked, [id]: { text, instrument } });
    onKeep?.(plan.find((one) => one.id === id)!, text, unit, instrument);
  };
  const desk: Desk = { words, unit, catalogue, tool, readWith, set, put, visit };
  return (
    <Screen title={title} over={over} back={back} backWord={backWord}>
      <p class="soft">{about}</p>
      <UnitPick unit={unit} onPick={turn} />
      <section class="stack" aria-label="What was measured">
        {choices?.(desk)}
        {withTool && <PickField label="Read with" value={tool.id} options={instruments.map((one) => ({ value: one.id, label: `${one.title}: ${one.hint}` }))} onPick={(id) => set({ tool: id })} />}
        {plan.map((asked) => {
          const length = lengths.includes(asked);
          const text = words[asked.id] ?? "";
          const doubt = sure[asked.id] === text ? null : doubtIn(words, asked, unit, catalogue);
          const keep = (text: string) => onKeep?.(asked, text, unit, tool);
          const likely = doubt?.likely_unit;
          return (
            <div class="stack tight" key={asked.id}>
              <TextField label={length ? `${asked.label} (${unit === "in" ? "inch" : "mm"})` : asked.label} hint={asked.hint} keyboard={length && unit === "mm" ? "decimal" : "text"} max={80} value={text}
                wrong={doubt?.message} onInput={(typed) => set({ [asked.id]: typed })} onDone={(done) => { if (!doubtIn({ [asked.id]: done }, asked, unit, catalogue)) keep(done); }} />
              {doubt?.keep && (
                <div class="row">
                  {likely && likely !== typedIn(text, unit).unit && <Button onClick={() => { const meant = `${typedIn(text, unit).text} ${likely}`; set({ [asked.id]: meant }); keep(meant); }}>It was {likely === "in" ? "inches" : "millimetres"}</Button>}
                  <Button onClick={() => { setSure({ ...sure, [asked.id]: text }); keep(text); }}>Keep it as typed</Button>
                </div>
              )}
            </div>
          );
        })}
      </section>
      {children(desk)}
    </Screen>
  );
}
