// The recorder: the cold first firing, then settled ones at each speed; every take is kept with its marks and its time.
import { useEffect, useState } from "preact/hooks";
import { keepAwake } from "../../device/wake_lock.ts";
import { judgement } from "../../domain/shutter_judgement.ts";
import { table } from "../../domain/shutter_table.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { BriefLine } from "../visit/brief_line.tsx";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { ShutterFacts } from "../visit/shutter_facts.tsx";
import type { SpeedList } from "../visit/speeds.ts";
import { TagBar } from "../visit/tag_bar.tsx";
import { useVisit, type ReadyVisit } from "../visit/use_visit.ts";
import { plain } from "../visit/view.ts";
import { useWayBack } from "../visit/way_back.ts";
import "../visit/visit.css";
import { speedWords } from "../visit/words.ts";
import { Conditions, type ConditionWords, NO_CONDITIONS, USUAL_FIRINGS } from "./conditions.tsx";
import { SPEEDS_CHECK } from "./proposal.ts";
import { Recorder } from "./recorder.tsx";
import { Run } from "./run.tsx";
import { letMicrophoneGo } from "./shared_microphone.ts";
import "./shutter.css";
import { SpeedPicker } from "./speed_picker.tsx";
import { SpeedTable } from "./speed_table.tsx";
import { TakeCard } from "./take_card.tsx";
import { readsOf } from "./takes.ts";
import { useTakes } from "./use_takes.ts";
import { QUALITY } from "./words.ts";

export default function Shutter({ params }: ScreenInput) {
  const ready = useVisit(params["visit"]!);
  useEffect(() => keepAwake(), []);
  useEffect(() => letMicrophoneGo, []);
  if (ready === null) return <Missing />;
  if (!ready) return <Waiting />;
  return <ReadyShutter ready={ready} />;
}

function ReadyShutter({ ready }: { ready: ReadyVisit }) {
  const { view, catalogue, judged } = ready;
  const visit = view.visit.id;
  const piece: Record<string, any> = plain(view.piece);
  const takes = useTakes(visit);
  const marks = ((piece["speeds"] as SpeedList | null)?.marks ?? []).filter((mark) => mark.seconds !== null);
  const store = useStore();
  const setPiece = (fields: Record<string, unknown>) => {
    store.set("piece", view.piece.id, fields).catch((error: unknown) => tellFailure(error, () => setPiece(fields)));
  };
  const [picked, setPicked] = useState<string | null>(null);
  const [conditions, setConditions] = useState<ConditionWords>(NO_CONDITIONS);
  const [shown, setShown] = useState<string | null>(null);
  const [running, setRunning] = useState(false);
  const wanted = useLive(async (from) => (await from.meta.get("firings")) ?? USUAL_FIRINGS, []);

  const frame = { title: "Shutter times", over: pieceTitle(view.piece), ...useWayBack(visit) };
  const under = <><TagBar open={view.open} current={visit} /><BriefLine judged={judged} visit={visit} /></>;
  if (marks.length === 0) {
    return (
      <Screen {...frame} under={under}>
        <Note tone="tell" title="Which speeds are marked on it?"><p>Pick the kind of shutter; its usual speeds come with it. Yours may differ: pick another series or type its own list.</p></Note>
        <ShutterFacts piece={piece} catalogue={catalogue} setPiece={setPiece} />
      </Screen>
    );
  }
  if (takes === undefined || wanted === undefined) return <Screen {...frame} under={under}><Waiting /></Screen>;

  const coldTaken = takes.some(({ take }) => take.values["intent"].cold);
  const settledOf = (text: string) => takes.filter(({ take }) => !take.values["intent"].cold && take.values["intent"].marked.text === text).length;
  const next = marks.find((mark) => settledOf(mark.text) < wanted) ?? marks[0]!;
  const mark = marks.find((one) => one.text === picked) ?? (coldTaken ? next : marks[0]!);
  const reads = readsOf(takes);
  const byMachine = readsOf(takes.map((take) => ({ ...take, moved: undefined })));
  const rows = table(reads, piece, catalogue);
  const tallyOf = (text: string) => {
    const own = reads.filter((read) => read.marked.text === text && !read.cold && read.reading.open_time_s !== null);
    return { kept: own.length, clear: own.filter(({ reading }) => reading.verdict === "clear").length };
  };
  const sum = judgement(rows, piece, catalogue);
  const stopsAt = (text: string) => [...new Set(takes.filter(({ take }) => take.values["intent"].marked.text === text).flatMap(({ take }) => take.values["conditions"]?.stop ?? []))] as string[];
  const current = takes.find(({ take }) => take.id === shown) ?? takes.at(-1);

  return (
    <Screen {...frame} under={under}>
      {!coldTaken && takes.length === 0 && (
        <Note tone="care" title="The first firing of the day comes first">
          <p>Only the first firing shows how it wakes up, and it cannot be had again. Set a speed you will use, cock, then record.</p>
        </Note>
      )}
      {running && <Run visit={visit} marks={marks} first={mark.text} wanted={wanted} coldTaken={coldTaken} tallyOf={tallyOf} conditions={conditions}
        onKept={(id, text) => { setShown(id); setPicked(text); }} onEnd={() => setRunning(false)} />}
      {!running && <SpeedPicker marks={marks} chosen={mark.text} wanted={wanted} countOf={settledOf} onPick={setPicked} />}
      {!running && <Recorder
        key={mark.text}
        visit={visit}
        mark={mark}
        coldTaken={coldTaken}
        settled={settledOf(mark.text)}
        wanted={wanted}
        conditions={conditions}
        lastMs={(takes.at(-1)?.take.values["at"]?.ms as number | undefined) ?? null}
        // The ring stays where it is until the person turns it: the next speed is never chosen for them.
        onKept={(id) => { setShown(id); setPicked(mark.text); }}
      />}
      {!running && <Button wide icon="list" onClick={() => setRunning(true)}>Run through the speeds, hands free</Button>}
      {current && <TakeCard key={current.take.id} view={current} read={reads.find((read) => read.id === current.take.id)?.reading} machine={byMachine.find((read) => read.id === current.take.id)?.reading} piece={piece} catalogue={catalogue} />}
      {rows.length > 0 && <SpeedTable rows={rows} judged={sum} stopsAt={stopsAt} visit={visit} check={judged.checks.find((check) => check.id === SPEEDS_CHECK)} resultAt={judged.resultAt} />}
      {takes.length > 1 && (
        <details class="fold">
          <summary>All takes ({takes.length})</summary>
          <ul class="inside lines">
            {takes.map(({ take }, index) => (
              <li key={take.id}>
                <button type="button" class="line" onClick={() => setShown(take.id)}>
                  <span class="figures">{index + 1}.</span>
                  <span>
                    <span class="name">{speedWords(take.values["intent"].marked.text)}{take.values["intent"].cold ? ", cold" : ""}</span>
                    <span class="under">{QUALITY[reads.find((read) => read.id === take.id)?.reading.verdict ?? ""]?.word ?? (takes[index]!.result === null ? "Sound not on this phone" : "Measuring")}</span>
                  </span>
                </button>
              </li>
            ))}
          </ul>
        </details>
      )}
      <Conditions words={conditions} firings={wanted} onChange={setConditions}
        onFirings={(count) => { store.meta.set("firings", count).catch((error: unknown) => tellFailure(error)); }} />
      <p class="soft small">The time is from click to click: the end of opening to the end of closing, as the two loud clicks are taken to be. It is near what film gets one stop down; at 1/30 and slower the stop makes no difference. Marks faster than 1/125 are indication only.</p>
    </Screen>
  );
}
