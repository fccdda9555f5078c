// Screen and film: does the ground glass focus where the film lies, what the error does, and what to shim; in a visit or at the bench.
import { useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Note, Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { saveReading } from "../check/save.ts";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { type ReadyVisit, useVisit } from "../visit/use_visit.ts";
import { useWayBack } from "../visit/way_back.ts";
import { type NamedThing, useLot } from "../kit/things.ts";
import { doubtOf, type FocusWords, focusOf, unitsKept, USUAL_INDEX } from "./focus_input.ts";
import { FocusForm } from "./focus_form.tsx";
import { type KnownDepth, useKnownDepths } from "./known_depths.ts";
import { FocusResults } from "./focus_results.tsx";
import "./measure.css";
import { UnitPick } from "./unit_pick.tsx";

const NO_LOT: readonly NamedThing[] = [];
const FRESNEL_CHECK = "camera.back.fresnel";
const MIDDLE = "point=middle";
const START: FocusWords = {
  unit: "mm", format: "4x5", screen: [""], tool: "caliper", between: "nothing", measured_to: "matte", sheet: "", index: USUAL_INDEX.nothing,
  divider_from: "standard", divider: "", film: "0.18", circle: "circle_of_confusion.1750",
};

export default function Focus({ params, query }: ScreenInput) {
  const visit = params["visit"];
  return visit === undefined ? <AtTheBench /> : <InVisit visit={visit} check={query["check"] ?? "camera.back.depth"} />;
}

/** What was last chosen and typed at the bench; `screen` is kept as one text. */
function wordsFrom(kept: Record<string, string> | undefined): FocusWords {
  return kept ? unitsKept({ ...START, ...kept, screen: [kept["screen"] ?? ""] } as FocusWords) : START;
}

function AtTheBench() {
  const catalogue = useCatalogue();
  const store = useStore();
  const kept = useLive(async (from) => wordsFrom(await from.meta.get("bench_focus")), []);
  const known = useKnownDepths(NO_LOT);
  if (!catalogue || !kept) return <Waiting />;
  const keep = (words: FocusWords) => { store.meta.set("bench_focus", { ...words, screen: words.screen[0] ?? "" }).catch((error: unknown) => tellFailure(error)); };
  return <Measuring start={kept} catalogue={catalogue} over="At the bench, without a session" back="#/bench" backWord="Back to the bench" known={known} onWords={keep} />;
}

function InVisit({ visit, check }: { visit: string; check: string }) {
  const ready = useVisit(visit);
  const habits = useLive(async (from) => (await from.meta.get("bench_focus")) ?? null, []);
  if (ready === null) return <Missing />;
  return ready && habits !== undefined ? <ReadyInVisit ready={ready} check={check} habits={habits} /> : <Waiting />;
}

function ReadyInVisit({ ready: { view, catalogue }, check, habits }: { ready: ReadyVisit; check: string; habits: Record<string, string> | null }) {
  const store = useStore();
  const visit = view.visit.id;
  const known = useKnownDepths(useLot(view, catalogue));
  const depthCheck = check === FRESNEL_CHECK ? "camera.back.depth" : check;
  const typedAt = (of: string, reading: string) => view.readings.filter(({ values }) => values["check"] === of && values["reading"] === reading && values["typed"]);
  const depths = typedAt(depthCheck, "glass_depth");
  const [sheet] = typedAt(FRESNEL_CHECK, "sheet_thickness");
  const said = (record: Rec) => `${record.values["typed"].text} ${record.values["typed"].unit}`;
  const start: FocusWords = {
    ...START,
    film: habits?.["film"] ?? START.film,
    circle: habits?.["circle"] ?? START.circle,
    format: (view.piece.values["format"] as string | null | undefined) ?? START.format,
    screen: depths.length > 0 ? depths.map(said) : [""],
    tool: (depths[0]?.values["instrument"]?.kind as string | undefined) ?? START.tool,
    ...(sheet ? { between: "fresnel" as const, sheet: said(sheet), index: USUAL_INDEX.fresnel } : {}),
  };
  const keepAt = (of: string, reading: string, place: string, tool: string, text: string, unit: "mm" | "in") => {
    const instrument = { kind: tool, resolution_mm: catalogue.terms.instruments.find(({ id }) => id === tool)?.resolution_mm ?? null };
    const save = () => saveReading(store, { visit, check: of, place }, reading, { text, unit, instrument }).catch((error: unknown) => tellFailure(error, () => void save()));
    void save();
  };
  const ofCamera = view.piece.values["kind"] === "camera";
  return (
    <Measuring start={start} catalogue={catalogue} over={pieceTitle(view.piece)} {...useWayBack(visit, check)}
      screenHint="Change them at the check." known={known}
      onScreen={(text, unit, tool) => keepAt(depthCheck, "glass_depth", (depths[0]?.values["place"] as string | undefined) ?? MIDDLE, tool, text, unit)}
      onSheet={ofCamera ? (text, unit, tool) => keepAt(FRESNEL_CHECK, "sheet_thickness", "", tool, text, unit) : undefined} />
  );
}

interface MeasuringProps {
  start: FocusWords;
  catalogue: Catalogue;
  over: string;
  back: string;
  backWord: string;
  screenHint?: string;
  known: readonly KnownDepth[];
  onWords?: (words: FocusWords) => void;
  onScreen?: (text: string, unit: "mm" | "in", tool: string) => void;
  onSheet?: (text: string, unit: "mm" | "in", tool: string) => void;
}

function Measuring({ start, catalogue, over, back, backWord, screenHint, known, onWords, onScreen, onSheet }: MeasuringProps) {
  const store = useStore();
  const unit = useLive(async (from) => (await from.meta.get("unit")) ?? "mm", []);
  const [typed, setTyped] = useState(start);
  if (unit === undefined) return <Waiting />;
  const words = { ...typed, unit };
  const set = (change: Partial<FocusWords>) => {
    const next = { ...words, ...change };
    setTyped(next);
    onWords?.(next);
  };
  // Kept only where it raises no question: one that does is answered by a button that names the unit.
  const sure = (field: string, text: string, as: "mm" | "in") => text.trim() !== "" && doubtOf(field, text, as, catalogue) === null;
  const found = focusOf(words, catalogue);
  return (
    <Screen title="Screen and film" over={over} back={back} backWord={backWord}>
      <p class="soft">Both are measured from the face the holder sits on: to the screen, and to the divider the film lies on. Figures go for film holders that carry film on the divider.</p>
      <UnitPick unit={unit} onPick={(one) => { setTyped(unitsKept(words)); store.meta.set("unit", one).catch((error: unknown) => tellFailure(error)); }} />
      <FocusForm words={words} wrong={found && "wrong" in found ? found.wrong : {}} catalogue={catalogue} set={set} screenHint={screenHint} known={known}
        onScreen={(text, as, onPurpose) => { if (onPurpose || sure("screen", text, as)) onScreen?.(text.trim(), as, words.tool); }}
        onSheet={(text, as, onPurpose) => { if (onPurpose || sure("sheet", text, as)) onSheet?.(text.trim(), as, words.tool); }} />
      {found && "result" in found
        ? <FocusResults result={found.result} words={words} catalogue={catalogue} unit={unit} />
        : <Note tone="tell"><p>{found ? "Something typed above cannot be; it says there what." : "Type the depth of the screen, and what else is asked, to see what it comes to."}</p></Note>}
    </Screen>
  );
}
