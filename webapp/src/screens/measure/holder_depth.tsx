// Holder depth: five points a side typed fast, each side and the set against the published depth; in a visit or at the bench.
import { useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import { depthCounts } from "../../domain/holder_side.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { useBusy } from "../../ui/busy.ts";
import { Counter } from "../../ui/counter.tsx";
import { PickField } from "../../ui/field.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { type ReadyVisit, useVisit } from "../visit/use_visit.ts";
import { useWayBack } from "../visit/way_back.ts";
import { DEPTH_CHECK, type DepthBook, NOTHING_TYPED, useBenchBook, useVisitBook } from "./depth_book.ts";
import { placed, pointWords } from "./depth_entry.ts";
import { DepthField } from "./depth_field.tsx";
import { DepthResults } from "./depth_results.tsx";
import { sidesOf } from "./depth_sides.ts";
import { HolderDrawing } from "./holder_drawing.tsx";
import { HolderKind } from "./holder_kind.tsx";
import "./measure.css";
import { UnitPick } from "./unit_pick.tsx";
import { useDepths } from "./use_depths.ts";

const TITLE = "Holder depth";
const MOST = 60;
/** The tool in hand stays in hand. */
let lastTool = "caliper";

export default function HolderDepth({ params }: ScreenInput) {
  const visit = params["visit"];
  return visit === undefined ? <AtTheBench /> : <InVisit visit={visit} />;
}

function InVisit({ visit }: { visit: string }) {
  const ready = useVisit(visit);
  if (ready === null) return <Missing />;
  return ready ? <ReadyInVisit ready={ready} /> : <Waiting />;
}

function ReadyInVisit({ ready: { view, catalogue } }: { ready: ReadyVisit }) {
  const book = useVisitBook(view, catalogue);
  const store = useStore();
  const setHolders = (fields: Record<string, unknown>) => {
    store.change<Record<string, unknown>>("piece", view.piece.id, "holders", (held) => ({ count: 1, ...held, ...fields })).catch((error: unknown) => tellFailure(error, () => setHolders(fields)));
  };
  const setPiece = (fields: Record<string, unknown>) => { store.set("piece", view.piece.id, fields).catch((error: unknown) => tellFailure(error, () => setPiece(fields))); };
  return (
    <Measuring book={book} catalogue={catalogue} over={pieceTitle(view.piece)} {...useWayBack(view.visit.id, DEPTH_CHECK)}>
      <HolderKind piece={view.piece.values} catalogue={catalogue} setPiece={setPiece} setHolders={setHolders} />
    </Measuring>
  );
}

function AtTheBench() {
  const catalogue = useCatalogue();
  const bench = useBenchBook(catalogue);
  // A new set begins with nothing to take back.
  const [turn, setTurn] = useState(0);
  if (!catalogue || !bench) return <Waiting />;
  const change = (make: Parameters<typeof bench.change>[0]) => { bench.change(make).catch((error: unknown) => tellFailure(error, () => change(make))); };
  const clear = () => {
    const before = bench.bench;
    change(({ format }) => ({ ...NOTHING_TYPED, format }));
    setTurn(turn + 1);
    showToast({ words: "The bench is empty.", undo: () => { change(() => before); setTurn(turn + 2); } });
  };
  return (
    <Measuring key={turn} book={bench.book} catalogue={catalogue} over="At the bench, without a session" back="#/bench" backWord="Back to the bench">
      <PickField label="Format" value={bench.bench.format ?? ""} options={[{ value: "", label: "Not known" }, ...catalogue.formats.map(({ id, title }) => ({ value: id, label: title }))]} onPick={(format) => change(() => ({ format: format || null }))} />
      <Counter label="Holders in the set" value={bench.bench.count} least={1} most={MOST} onStep={(by) => change(({ count }) => ({ count: Math.min(MOST, Math.max(1, count + by)) }))} />
      <Button icon="cross" onClick={clear}>Begin a new set</Button>
    </Measuring>
  );
}

interface MeasuringProps { book: DepthBook; catalogue: Catalogue; over: string; back: string; backWord: string; children?: preact.ComponentChildren }

function Measuring({ book, catalogue, over, back, backWord, children }: MeasuringProps) {
  useBusy();
  const store = useStore();
  const unit = useLive((from) => from.meta.get("unit"), []) ?? "mm";
  const [tool, setTool] = useState(lastTool);
  const depths = useDepths(book);
  const typed = depths.typed;
  const counts = depthCounts(book.holders ?? { registers_on: "divider" });
  // Plate holders are told apart before a figure is typed.
  const first = counts.reason !== null;
  const sides = sidesOf(book.order, typed, catalogue);
  const at = depths.at;
  const here = at ? placed(at) : null;
  const points = [...new Set(book.order.map((place) => placed(place).point))];
  const onSide = (point: string) => book.order.find((place) => { const one = placed(place); return here && one.holder === here.holder && one.side === here.side && one.point === point; });
  const done = new Set(points.filter((point) => typed.has(onSide(point) ?? "")));
  const count = book.order.filter((place) => typed.has(place)).length;

  return (
    <Screen title={TITLE} over={over} back={back} backWord={backWord}
      foot={counts.counts ? <DepthField depths={depths} at={at} there={at === null ? undefined : typed.get(at)} canUndo={depths.canUndo} unit={unit} tool={tool} catalogue={catalogue} /> : undefined}>
      {counts.reason && <Note tone={counts.counts ? "tell" : "care"}><p>{counts.reason}</p></Note>}
      {first && children}
      {counts.counts && (
        <>
          <div class="depth-now">
            {here && <HolderDrawing order={points} current={here.point} done={done} words={`Points in the order they are read out: ${points.map((point) => point.replaceAll("_", " ")).join(", ")}. Now ${here.point.replaceAll("_", " ")}.`} />}
            <div class="stack tight">
              <p><strong class="figures">{count} of {book.order.length}</strong> points typed</p>
              {at && <p class="soft">{pointWords(at)}. Someone reads out, you type; Enter moves on.</p>}
              <UnitPick unit={unit} onPick={(one) => { store.meta.set("unit", one).catch((error: unknown) => tellFailure(error)); }} />
            </div>
          </div>
          <details class="fold">
            <summary>Tool, format, which point</summary>
            <div class="inside stack">
              <PickField label="Read with" value={tool} options={catalogue.terms.instruments.map((one) => ({ value: one.id, label: `${one.title}: ${one.hint}` }))} onPick={(id) => { lastTool = id; setTool(id); }} />
              <PickField label="Go to point" value={at ?? ""} options={[...(at ? [] : [{ value: "", label: "All are there" }]), ...book.order.map((place) => ({ value: place, label: `${pointWords(place)}${typed.has(place) ? `: ${typed.get(place)!.text} ${typed.get(place)!.unit}` : ""}` }))]} onPick={(place) => { if (place) depths.go(place); }} />
              {!first && children}
            </div>
          </details>
          <DepthResults sides={sides} format={book.format} catalogue={catalogue} unit={unit} />
        </>
      )}
    </Screen>
  );
}
