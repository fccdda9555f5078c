// Listens to one take at a time; the microphone stays open for the whole run, and any sound file can stand in for it.
import { useEffect, useRef, useState } from "preact/hooks";
import { type Microphone, MicrophoneError, type MicrophoneTrouble } from "../../device/microphone.ts";
import { BadSound } from "../../domain/wav.ts";
import { useStore } from "../../store/live.ts";
import { useBusy } from "../../ui/busy.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorNote, Note } from "../../ui/notes.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { speedWords } from "../visit/words.ts";
import { conditionsOf, type ConditionWords } from "./conditions.tsx";
import { keepTake, type Heard } from "./keep_take.ts";
import { takeMicrophone } from "./shared_microphone.ts";
import { readSoundFile } from "./sound_file.ts";
import { Level } from "./level.tsx";
import { Stopped, stopMeasuring } from "./measure.ts";
import { clockWords, nextWords, takesWords, timeWords, TROUBLE } from "./words.ts";

export interface RecorderProps {
  visit: string;
  mark: { text: string; seconds: number | null };
  coldTaken: boolean;
  settled: number;
  conditions: ConditionWords;
  lastMs: number | null;
  /** Firings asked for at this speed. */
  wanted: number;
  onKept: (take: string) => void;
}

type State = "ready" | "listening" | "working";

export function Recorder({ visit, mark, coldTaken, settled, conditions, lastMs, wanted, onKept }: RecorderProps) {
  const store = useStore();
  const [state, setState] = useState<State>("ready");
  const [trouble, setTrouble] = useState<MicrophoneTrouble | null>(null);
  const [cold, setCold] = useState(!coldTaken);
  const [wrongFile, setWrongFile] = useState<string | null>(null);
  const [share, setShare] = useState<number | null>(null);
  const level = useRef<(peak: number) => void>(() => undefined);
  const microphone = useRef<Microphone | null>(null);
  const file = useRef<HTMLInputElement>(null);
  const main = useRef<HTMLDivElement>(null);

  useEffect(() => { setCold(!coldTaken); }, [coldTaken]);

  // The level pushes the button down; the next tap must be in sight, whatever the hands hold.
  useEffect(() => { if (state === "listening") main.current?.scrollIntoView({ block: "nearest" }); }, [state]);

  const keep = async (heard: Heard, where = "") => {
    setState("working");
    try {
      const sinceS = lastMs === null ? null : Math.max(0, Math.round((Date.now() - lastMs) / 1000));
      const meant = { marked: { text: mark.text, seconds: mark.seconds }, cold, ordinal: cold ? 1 : settled + 1, conditions: conditionsOf(conditions, sinceS) };
      const { take, takes, result } = await keepTake(store, visit, heard, meant);
      onKept(take);
      const said = where + (result.open_time_s === null ? nextWords(result.reason) : `${speedWords(mark.text)} reads ${timeWords(result.open_time_s)}.`);
      showToast({
        words: heard.lostFrames > 0 ? `${said} The phone dropped some sound: take it again to be sure.` : said,
        // A slip of the thumb, or talk, must not stand for the one cold firing of the day.
        undo: () => { Promise.all(takes.map((one) => store.remove("take", one))).catch((error: unknown) => tellFailure(error)); },
      });
    } catch (error) {
      if (!(error instanceof Stopped)) tellFailure(error);
    }
    setState("ready");
  };

  const listen = async () => {
    setTrouble(null);
    let open: Microphone;
    try {
      open = await takeMicrophone(() => { setState("ready"); setTrouble("busy"); });
    } catch (error) {
      setTrouble(error instanceof MicrophoneError ? error.trouble : "missing");
      return;
    }
    open.onLevel = (peak) => level.current(peak);
    open.start();
    microphone.current = open;
    setState("listening");
  };

  const finish = () => {
    const heard = microphone.current?.stop();
    if (heard) void keep({ ...heard, origin: "microphone" });
  };

  const load = async (chosen: File | undefined) => {
    if (!chosen) return;
    setWrongFile(null);
    setState("working");
    try {
      const { samples, rateHz, stretch } = await readSoundFile(chosen, mark.seconds, setShare);
      setShare(null);
      await keep({ samples, rateHz, origin: "file", lostFrames: 0, processed: false, settings: {} }, stretch && `Taken from ${clockWords(stretch.from_s)} of the recording. `);
    } catch (error) {
      if (!(error instanceof Stopped)) setWrongFile(error instanceof BadSound ? error.message : "The phone could not read this file. Copy it onto the phone and load it again.");
    }
    setShare(null);
    setState("ready");
  };

  return (
    <section class="recorder stack" aria-label="Record">
      {!coldTaken && (
        <div class="source" role="group" aria-label="Which firing">
          <button type="button" aria-pressed={cold} onClick={() => setCold(true)}>Cold, first of the day</button>
          <button type="button" aria-pressed={!cold} onClick={() => setCold(false)}>It was fired before</button>
        </div>
      )}
      <p class="soft">{cold ? "Fire once." : takesWords(settled, wanted)} Cock first, phone 5 to 20 cm away.</p>
      {state !== "ready" && <HoldOff />}
      {state === "listening" && <Level listen={(hear) => { level.current = hear; }} />}
      <div class="record-main" ref={main}>{state === "listening"
        ? <Button kind="strong" wide icon="sound" onClick={finish}>Fired: stop and measure</Button>
        : <Button kind="strong" wide icon="sound" disabled={state === "working"} onClick={() => void listen()}>{state !== "working" ? `Listen at ${speedWords(mark.text)}` : share === null ? "Measuring…" : "Looking for the firings…"}</Button>}</div>
      <Button wide icon="page" disabled={state !== "ready"} onClick={() => file.current?.click()}>Load a recording instead</Button>
      <input ref={file} type="file" accept="audio/*,.wav" class="only-read" tabIndex={-1} aria-label="Recording to load" onChange={(event) => { void load(event.currentTarget.files?.[0]); event.currentTarget.value = ""; }} />
      {share !== null && (
        <label class="stack tight small">
          <span>{Math.round(100 * share)} % of this long recording gone through. Nothing is kept before the end.</span>
          <progress value={share} max={1} />
        </label>
      )}
      {state === "working" && <Button wide icon="cross" onClick={stopMeasuring}>{share === null ? "Stop measuring" : "Stop; keep nothing"}</Button>}
      {trouble && <ErrorNote {...TROUBLE[trouble]} />}
      {wrongFile && <ErrorNote what="This file was not taken." todo={wrongFile} />}
      {state !== "listening" && <Note tone="tell"><p class="small">Ask before you record in somebody's house; laws differ. Only the stretch round the firings is kept.</p></Note>}
    </section>
  );
}

/** Nothing may ask for an update or reload while a take runs. */
function HoldOff() {
  useBusy();
  return null;
}
