// One take: its waveform with both marks, its time with its interval, how sure it is and what to do next.
import { useEffect, useState } from "preact/hooks";
import { moment } from "../../device/moment.ts";
import { errorStops, nominalSeconds, type Series } from "../../domain/exposure.ts";
import { buzzHint } from "../../domain/shutter_buzz.ts";
import type { ReadTake } from "../../domain/shutter_takes.ts";
import { parseWav } from "../../domain/wav.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Mark } from "../../ui/mark.tsx";
import { Note } from "../../ui/notes.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { speedWords } from "../visit/words.ts";
import { ServerReadingLine } from "./server_reading.tsx";
import type { TakeView } from "./takes.ts";
import { Waveform } from "./waveform.tsx";
import { besideWords, holdsWords, nextWords, QUALITY, stopsWords, timeWords, unmarkedWords } from "./words.ts";

export interface TakeCardProps {
  view: TakeView;
  read: ReadTake["reading"] | undefined;
  /** The reading without the marks a person set. */
  machine: ReadTake["reading"] | undefined;
  piece: Record<string, any>;
  catalogue: any;
}

export function TakeCard({ view, read, machine, piece, catalogue }: TakeCardProps) {
  const store = useStore();
  const { take, recording, moved, result } = view;
  const { marked, cold } = take.values["intent"];
  const [sound, setSound] = useState<{ samples: Float32Array; rateHz: number } | null>(null);
  const hash = recording?.values["file"]?.hash as string | undefined;
  useEffect(() => {
    let wanted = true;
    if (hash) void store.getMedia(hash).then((file) => { if (wanted && file) setSound(parseWav(file.bytes)); }, () => undefined);
    return () => { wanted = false; };
  }, [hash]);

  const own = moved?.values["moved"] as { open_s: number; close_s: number } | null | undefined;
  const heard = machine && machine.open_s !== null && machine.close_s !== null ? { open_s: machine.open_s, close_s: machine.close_s } : null;
  const series = (catalogue.series as Series[]).find((one) => one.id === piece["speeds"]?.series) ?? null;
  const nominal = nominalSeconds(marked.text, series) ?? marked.seconds;

  const stop = take.values["conditions"]?.stop as string | null | undefined;
  const holds = read?.open_time_s != null && nominal ? holdsWords(nominal, stop ? [stop] : []) : "";

  const setMarks = (marks: { open_s: number; close_s: number } | null) => {
    const saved = marks
      ? moved ? store.set("mark", moved.id, { moved: { ...marks, at: moment() } }) : store.create("mark", { take: take.id, moved: { ...marks, at: moment() } })
      : store.remove("mark", moved!.id);
    saved.then(
      () => showToast({ words: marks ? "Your marks are kept beside the machine's" : "Back to the machine's marks", undo: () => { store.undo().catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error),
    );
  };

  return (
    <section class="card stack" aria-label="Take">
      <div class="row">
        <h2>{speedWords(marked.text)}{cold ? ", cold" : ""}</h2>
        {own ? <Mark tone="good" word="Your marks" /> : result && <Mark {...QUALITY[read?.verdict ?? result.verdict]!} />}
      </div>
      <Versions record={take.id} />
      {moved && <Versions record={moved.id} />}
      {read && read.open_time_s !== null && read.low_s !== null && read.high_s !== null
        ? (
          <p class="reading">
            <strong class="figures">{timeWords(read.open_time_s)}</strong>{" "}
            <span>({timeWords(read.low_s)} to {timeWords(read.high_s)}){nominal ? `, ${stopsWords(errorStops(read.open_time_s, nominal))}` : ""}</span>
          </p>
        )
        : <p class="soft">{result === undefined ? "Measuring…" : result === null ? "The sound of this take is not on this phone." : "No time could be read."}</p>}
      {holds && <p class="soft small">{holds}</p>}
      {result && !own && <p class="soft small">{unmarkedWords(result)}</p>}
      {result && hash && <ServerReadingLine hash={hash} marked={marked.text} result={result} />}
      {result && buzzHint(result.buzz) && <p class="small">{buzzHint(result.buzz)}</p>}
      <CaptureNotes capture={recording?.values["capture"]} rateHz={recording?.values["file"]?.rate_hz} />
      {read && !own && read.verdict !== "clear" && <Note tone="care" title="Kept. What to do next"><p>{nextWords(read.reason)}{read.other_s !== null && ` It may also be ${timeWords(read.other_s)}.`}</p></Note>}
      {own && read?.verdict === "unusable" && <Note tone="bad"><p>{nextWords(read.reason)}</p></Note>}
      {sound && result !== undefined && <Waveform samples={sound.samples} rateHz={sound.rateHz} marks={own ?? heard} machine={own ? heard : null} clicks={result?.clicks_s ?? []} onMarks={setMarks} />}
      {own && <p class="small">{besideWords(machine)}</p>}
      {own && <Button icon="undo" onClick={() => setMarks(null)}>Use the machine's marks</Button>}
    </section>
  );
}

/** What the phone did to the sound on the way, where that may shift a time. */
function CaptureNotes({ capture, rateHz }: { capture: { processed?: boolean; lost_frames?: number } | null | undefined; rateHz: number | undefined }) {
  const lostMs = capture?.lost_frames && rateHz ? Math.round((1000 * capture.lost_frames) / rateHz) : 0;
  return (
    <>
      {lostMs > 0 && <p class="small">The phone dropped about {lostMs} ms of sound. If the gap lies inside a firing, its time is too short by that much: take it again to be sure.</p>}
      {capture?.processed && <p class="small">The phone kept its voice processing on; clicks may be doubled or moved. A file from its own recorder is safer.</p>}
    </>
  );
}
