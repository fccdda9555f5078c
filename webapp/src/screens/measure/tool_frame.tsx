// The frame of a small bench tool: its fields, kept as readings in a visit or on this phone at the bench, and what they come to.
import { useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import type { LengthUnit } from "../../domain/lengths.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { saveReading } from "../check/save.ts";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { useVisit } from "../visit/use_visit.ts";
import { withUnit } from "./focus_input.ts";
import "./measure.css";
import { type Asked, doubtIn, typedIn, type Words, wordsOf } from "./plan.ts";
import { UnitPick } from "./unit_pick.tsx";

export interface Desk {
  readonly words: Words;
  readonly unit: LengthUnit;
  readonly catalogue: Catalogue;
  readonly tool: Catalogue["terms"]["instruments"][number];
  readonly set: (change: Record<string, string>) => void;
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
  const store = useStore();
  if (ready === null) return <Missing />;
  if (!ready) return <Waiting />;
  const { view, catalogue } = ready;
  const check = props.input.query["check"];
  const format = view.piece.values["format"] as string | null | undefined;
  const keep = ({ reading, measure }: Asked, text: string, unit: LengthUnit, tool: Desk["tool"]) => {
    if (!reading || text.trim() === "") return;
    const typed = measure ? typedIn(text, unit) : { text: text.trim(), unit: "text" };
    const spot = { visit, check: reading.check, place: reading.place ?? "" };
    const save = () => saveReading(store, spot, reading.reading, { ...typed, instrument: { kind: tool.id, resolution_mm: tool.resolution_mm } }).catch((error: unknown) => tellFailure(error, () => void save()));
    void save();
  };
  return <Fields {...props} start={{ ...(format ? { format } : {}), ...wordsOf(props.plan, view.readings) }} catalogue={catalogue} over={pieceTitle(view.piece)}
    back={check ? address("/visit", visit, "/check", check) : address("/visit", visit)} backWord="Back to the check" onKeep={keep} />;
}

interface FieldsProps extends ToolProps {
  start: Words;
  catalogue: Catalogue;
  over: string;
  back: string;
  backWord: string;
  onWords?: (words: Words) => void;
  onKeep?: (asked: Asked, text: string, unit: LengthUnit, tool: Desk["tool"]) => void;
}

function Fields({ title, about, plan, withTool, choices, children, start, catalogue, over, back, backWord, onWords, onKeep }: FieldsProps) {
  const store = useStore();
  const unit = useLive(async (from) => (await from.meta.get("unit")) ?? "mm", []);
  const [words, setWords] = useState(start);
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
  const desk: Desk = { words, unit, catalogue, tool, set };
  return (
    <Screen title={title} over={over} back={back} backWord={backWord}>
      <p class="soft">{about}</p>
      <UnitPick unit={unit} onPick={turn} />
      <section class="stack" aria-label="What was measured">
        {choices?.(desk)}
        {withTool && <PickField label="Read with" value={tool.id} options={instruments.map((one) => ({ value: one.id, label: `${one.title}: ${one.hint}` }))} onPick={(id) => set({ tool: id })} />}
        {plan.map((asked) => {
          const length = lengths.includes(asked);
          const doubt = doubtIn(words, asked, unit, catalogue);
          const keep = (text: string) => onKeep?.(asked, text, unit, tool);
          const likely = doubt?.likely_unit;
          return (
            <div class="stack tight" key={asked.id}>
              <TextField label={length ? `${asked.label} (${unit === "in" ? "inch" : "mm"})` : asked.label} hint={asked.hint} keyboard={length && unit === "mm" ? "decimal" : "text"} max={80} value={words[asked.id] ?? ""}
                wrong={doubt?.message} onInput={(text) => set({ [asked.id]: text })} onDone={(text) => { if (!doubtIn({ [asked.id]: text }, asked, unit, catalogue)) keep(text); }} />
              {likely && likely !== typedIn(words[asked.id]!, unit).unit && <Button onClick={() => { const text = `${typedIn(words[asked.id]!, unit).text} ${likely}`; set({ [asked.id]: text }); keep(text); }}>It was {likely === "in" ? "inches" : "millimetres"}</Button>}
            </div>
          );
        })}
      </section>
      {children(desk)}
    </Screen>
  );
}
