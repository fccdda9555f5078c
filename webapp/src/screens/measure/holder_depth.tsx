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
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { type ReadyVisit, useVisit } from "../visit/use_visit.ts";
import { DEPTH_CHECK, type DepthBook, NOTHING_TYPED, useBenchBook, useVisitBook } from "./depth_book.ts";
import { mmOf, placed, pointWords } from "./depth_entry.ts";
import { DepthField } from "./depth_field.tsx";
import { DepthResults } from "./depth_results.tsx";
import { sidesOf } from "./depth_sides.ts";
import { HolderDrawing } from "./holder_drawing.tsx";
import "./measure.css";
import { UnitPick } from "./unit_pick.tsx";
import { useDepths } from "./use_depths.ts";

const TITLE = "Holder depth";
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
  return <Measuring book={book} catalogue={catalogue} over={pieceTitle(view.piece)} back={address("/visit", view.visit.id, "/check", DEPTH_CHECK)} backWord="Back to the check" />;
}

function AtTheBench() {
  const catalogue = useCatalogue();
  const bench = useBenchBook(catalogue);
  if (!catalogue || !bench) return <Waiting />;
  const set = (change: Parameters<typeof bench.set>[0]) => { bench.set(change).catch((error: unknown) => tellFailure(error, () => set(change))); };
  const clear = () => {
    const before = bench.bench;
    set(NOTHING_TYPED);
    showToast({ words: "The bench is empty.", undo: () => set(before) });
  };
  return (
    <Measuring key={JSON.stringify([bench.bench.count, Object.keys(bench.bench.points).length === 0])} book={bench.book} catalogue={catalogue} over="At the bench, without a session" back="#/bench" backWord="Back to the bench">
      <PickField label="Format" value={bench.bench.format ?? ""} options={[{ value: "", label: "Not known" }, ...catalogue.formats.map(({ id, title }) => ({ value: id, label: title }))]} onPick={(format) => set({ format: format || null })} />
      <Counter label="Holders in the set" value={bench.bench.count} least={1} most={60} onChange={(count) => set({ count })} />
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
  const counts = depthCounts(book.holders ?? { registers_on: "divider" });
  const sides = sidesOf(book.order, depths.typed, catalogue);
  const besideMm = [...depths.typed.values()].map(mmOf).filter((one) => one !== null);
  const at = depths.at;
  const here = at ? placed(at) : null;
  const points = [...new Set(book.order.map((place) => placed(place).point))];
  const onSide = (point: string) => book.order.find((place) => { const one = placed(place); return here && one.holder === here.holder && one.side === here.side && one.point === point; });
  const done = new Set(points.filter((point) => depths.typed.has(onSide(point) ?? "")));
  const count = book.order.filter((place) => depths.typed.has(place)).length;

  return (
    <Screen title={TITLE} over={over} back={back} backWord={backWord}
      foot={counts.counts ? <DepthField depths={depths} unit={unit} tool={tool} besideMm={besideMm} catalogue={catalogue} /> : undefined}>
      {counts.reason && <Note tone={counts.counts ? "tell" : "care"}><p>{counts.reason}</p></Note>}
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
            <summary>Tool, and which point</summary>
            <div class="inside stack">
              <PickField label="Read with" value={tool} options={catalogue.terms.instruments.map((one) => ({ value: one.id, label: `${one.title}: ${one.hint}` }))} onPick={(id) => { lastTool = id; setTool(id); }} />
              <PickField label="Go to point" value={at ?? ""} options={[...(at ? [] : [{ value: "", label: "All are there" }]), ...book.order.map((place) => ({ value: place, label: `${pointWords(place)}${depths.typed.has(place) ? `: ${depths.typed.get(place)!.text} ${depths.typed.get(place)!.unit}` : ""}` }))]} onPick={(place) => { if (place) depths.go(place); }} />
              {children}
            </div>
          </details>
          <DepthResults sides={sides} format={book.format} catalogue={catalogue} unit={unit} />
        </>
      )}
    </Screen>
  );
}
