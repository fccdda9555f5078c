// A run through the speeds without touching the table: it listens all the time, takes each firing and says which speed to set next.
import { useEffect, useRef, useState } from "preact/hooks";
import { MicrophoneError, type CapturedPiece, type Microphone, type MicrophoneTrouble } from "../../device/microphone.ts";
import { useStore } from "../../store/live.ts";
import { useBusy } from "../../ui/busy.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorNote } from "../../ui/notes.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { conditionsOf, type ConditionWords } from "./conditions.tsx";
import { keepTake } from "./keep_take.ts";
import { Level } from "./level.tsx";
import { hasEnough, nextMark, type Tally } from "./run_plan.ts";
import { takeMicrophone } from "./shared_microphone.ts";
import { FiringSplitter, tailOf } from "./split.ts";
import { QUALITY, timeWords, TROUBLE } from "./words.ts";

export interface RunMark { text: string; seconds: number | null }

export interface RunProps {
  visit: string;
  marks: readonly RunMark[];
  first: string;
  wanted: number;
  coldTaken: boolean;
  /** What each speed has already. */
  tallyOf: (mark: string) => Tally;
  conditions: ConditionWords;
  onKept: (take: string, mark: string) => void;
  onEnd: () => void;
}

interface Last { words: string; takes: readonly string[]; mark: string; clear: number }

export function Run({ visit, marks, first, wanted, coldTaken, tallyOf, conditions, onKept, onEnd }: RunProps) {
  useBusy();
  const store = useStore();
  const [mark, setMark] = useState<string | null>(first);
  const [paused, setPaused] = useState(false);
  const [last, setLast] = useState<Last | null>(null);
  const [trouble, setTrouble] = useState<MicrophoneTrouble | null>(null);
  const [tallies, setTallies] = useState<Record<string, Tally>>(() => Object.fromEntries(marks.map(({ text }) => [text, tallyOf(text)])));
  const level = useRef<(peak: number) => void>(() => undefined);
  // The stream does not wait for the screen: what it needs stands here, always the newest.
  const now = useRef({ mark, paused, tallies, cold: !coldTaken, lastMs: null as number | null, conditions });
  now.current = { ...now.current, mark, paused, tallies, conditions };
  const work = useRef(Promise.resolve());

  const handle = async (microphone: Microphone, pieces: CapturedPiece[], text: string) => {
    const seconds = marks.find((one) => one.text === text)!.seconds;
    const { cold, lastMs, tallies: before } = now.current;
    const tally = before[text]!;
    const sinceS = lastMs === null ? null : Math.round((Date.now() - lastMs) / 1000);
    const meant = { marked: { text, seconds }, cold, ordinal: cold ? 1 : tally.kept + 1, conditions: conditionsOf(now.current.conditions, sinceS) };
    const heard = microphone.captured(pieces);
    const kept = await keepTake(store, visit, { ...heard, origin: "microphone" }, meant,
      ({ open_time_s, reason }) => open_time_s !== null && reason !== "may_not_be_a_shutter");
    if (!kept) return setLast({ words: "Heard something, but no firing in it. Not kept.", takes: [], mark: text, clear: 0 });
    const settled = kept.takes.length - (cold ? 1 : 0);
    const isWhole = heard.lostFrames === 0;
    // A firing from which sound was lost is kept and asked for once more.
    const clear = kept.result.verdict === "clear" && isWhole ? settled : 0;
    const after = { ...before, [text]: { clear: tally.clear + clear, kept: tally.kept + settled } };
    now.current = { ...now.current, cold: false, lastMs: Date.now(), tallies: after };
    setTallies(after);
    setLast({ words: `${text}${cold ? ", cold," : ""} reads ${timeWords(kept.result.open_time_s!)}: ${QUALITY[kept.result.verdict]!.word.toLowerCase()}.${isWhole ? "" : " The phone dropped some sound: fire it again."}`, takes: kept.takes, mark: text, clear });
    onKept(kept.takes[0]!, text);
    if (hasEnough(after[text]!, wanted) && now.current.mark === text) setMark(nextMark(marks.map((one) => one.text), (one) => after[one]!, text, wanted));
  };

  useEffect(() => {
    let wantedStill = true;
    let splitter: FiringSplitter | null = null;
    let of: string | null = null;
    let held: Microphone | null = null;
    takeMicrophone(() => { setTrouble("busy"); setPaused(true); }).then((microphone) => {
      if (!wantedStill) return;
      held = microphone;
      microphone.onLevel = (peak) => level.current(peak);
      microphone.onPiece = (piece) => {
        const { mark: text, paused: still } = now.current;
        if (text === null || still) { splitter = null; return; }
        if (!splitter || of !== text) {
          of = text;
          splitter = new FiringSplitter(microphone.context.sampleRate, tailOf(marks.find((one) => one.text === text)?.seconds ?? 0));
        }
        const pieces = splitter.add(piece);
        if (pieces) work.current = work.current.then(() => handle(microphone, pieces, text)).catch((error: unknown) => tellFailure(error));
      };
    }, (error: unknown) => setTrouble(error instanceof MicrophoneError ? error.trouble : "missing"));
    return () => { wantedStill = false; if (held) held.onPiece = () => undefined; };
  }, []);

  const takeBack = ({ takes, mark: text, clear }: Last) => {
    Promise.all(takes.map((take) => store.remove("take", take))).then(() => {
      setTallies((before) => ({ ...before, [text]: { clear: before[text]!.clear - clear, kept: Math.max(0, before[text]!.kept - takes.length) } }));
      setMark(text);
      setLast(null);
    }, (error: unknown) => tellFailure(error));
  };

  const skip = () => { if (mark !== null) setMark(nextMark(marks.map((one) => one.text), (one) => (one === mark ? { clear: wanted, kept: wanted } : tallies[one]!), mark, wanted)); };

  return (
    <section class="recorder stack" aria-label="Run">
      <div class="run-word" role="status">
        {mark === null ? <strong>Done</strong> : <><span>Set</span> <strong class="figures">{mark}</strong></>}
        <span>{mark === null ? "Every speed has its firings." : now.current.cold ? "Cock, wait a moment, fire: the cold one" : `Cock, wait a moment, fire: ${Math.min(wanted, tallies[mark]!.clear)} of ${wanted} clear`}</span>
      </div>
      {!trouble && mark !== null && !paused && <Level listen={(hear) => { level.current = hear; }} />}
      {paused && !trouble && <p class="soft">Paused: nothing is heard.</p>}
      {last && (
        <div class="row">
          <p class="grow">{last.words}</p>
          {last.takes.length > 0 && <Button icon="undo" onClick={() => takeBack(last)}>Take back</Button>}
        </div>
      )}
      {trouble && <ErrorNote {...TROUBLE[trouble]} />}
      <div class="row">
        {mark !== null && !trouble && <Button onClick={() => setPaused(!paused)}>{paused ? "Go on" : "Pause"}</Button>}
        {mark !== null && <Button icon="skip" onClick={skip}>Next speed</Button>}
      </div>
      <Button kind="strong" wide onClick={onEnd}>{mark === null ? "Close the run" : "Stop the run"}</Button>
    </section>
  );
}
