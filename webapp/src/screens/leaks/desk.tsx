// One photo on the desk: the machine's places, the part that counts, the person's word on each, a second photo beside it.
import { useEffect, useMemo, useState } from "preact/hooks";
import { limitWords, places as placesOf } from "../../domain/leak_reading.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorNote, Note } from "../../ui/notes.tsx";
import { showToast } from "../../ui/toast.tsx";
import { findPlaces, Stopped } from "./find.ts";
import { LeakPicture } from "./leak_picture.tsx";
import { PhotoPick, type Origin } from "./photo_pick.tsx";
import { PlaceList } from "./place_list.tsx";
import { SECOND, verdictWords } from "./words.ts";
import { type Machine, marksAfter, marksWith, marksWithout, settledBy, type Work } from "./work.ts";
import type { SecondPhoto } from "../../domain/leak_compare.ts";

type ChangeMarks = (held: Work["marks"]) => Work["marks"];

export interface DeskProps {
  /** Names the photo. */
  photoKey: string;
  file: Blob;
  width: number;
  height: number;
  work: Work;
  /** Of the catalogue the machine judges by. */
  revision: number;
  onChange: (fields: Partial<Pick<Work, "machine" | "region">>) => void;
  /** The marks are made from those kept by then: places are tapped faster than they are drawn. */
  onMarks: (make: ChangeMarks) => void;
  /** Keeps a second photo, looked through already. */
  onSecond: (file: Blob, origin: Origin, how: SecondPhoto, hear: (share: number) => void) => Promise<void>;
  onNoSecond: () => void;
}

export function Desk({ photoKey, file, width, height, work, revision, onChange, onMarks, onSecond, onNoSecond }: DeskProps) {
  const [share, setShare] = useState<number | null>(null);
  const [failed, setFailed] = useState<string | null>(null);
  const [drawing, setDrawing] = useState(false);
  const [brighter, setBrighter] = useState(false);
  const [reading, setReading] = useState(false);
  const address = useMemo(() => URL.createObjectURL(file), [file]);
  useEffect(() => () => URL.revokeObjectURL(address), [address]);

  const look = () => {
    setFailed(null);
    setShare(0);
    findPlaces(photoKey, file, setShare).then(
      (found) => { setShare(null); onChange({ machine: { ...found, catalogue: revision } as Machine }); },
      (error: unknown) => { setShare(null); if (!(error instanceof Stopped)) setFailed(error instanceof Error ? error.message : String(error)); },
    );
  };
  useEffect(() => { if (!work.machine) look(); }, [photoKey]);

  const places = placesOf(work, width, height);
  const settled = settledBy(work, width, height);
  const told = work.machine && verdictWords(work.machine, places.length > 0, limitWords(work.machine));
  const changeRegion = (region: Work["region"], words: string) => {
    const before = work.region;
    onChange({ region });
    showToast({ words, undo: () => onChange({ region: before }) });
  };
  const changeMarks = (make: ChangeMarks, words: string) => {
    const before = work.marks;
    onMarks(make);
    showToast({ words, undo: () => onMarks(() => before) });
  };
  const second = (how: SecondPhoto) => (taken: Blob, origin: Origin) => {
    setReading(true);
    setShare(0);
    onSecond(taken, origin, how, setShare).catch((error: unknown) => { if (!(error instanceof Stopped)) setFailed(error instanceof Error ? error.message : String(error)); })
      .finally(() => { setReading(false); setShare(null); });
  };

  return (
    <>
      {share !== null && <Looking share={share} />}
      {failed && <ErrorNote what="The photo could not be looked through." todo={failed}><div class="row"><Button kind="strong" onClick={look}>Try again</Button></div></ErrorNote>}
      {told && <Note tone={told.tone} title={told.title} alert={told.tone === "bad"}>{told.words.map((words) => <p key={words}>{words}</p>)}</Note>}
      <LeakPicture address={address} width={width} height={height} places={places} region={work.region} drawing={drawing} brighter={brighter}
        onAdd={(at) => changeMarks((held) => marksWith(held, at), "Place added")}
        onRegion={(region) => { setDrawing(false); changeRegion(region, "Only the drawn part counts"); }} />
      <div class="row wrap">
        <Button icon="pen" pressed={drawing} onClick={() => setDrawing(!drawing)}>Draw around the piece</Button>
        {work.region && <Button icon="undo" onClick={() => changeRegion(null, "The whole photo counts")}>Whole photo</Button>}
        <Button icon="eye" pressed={brighter} onClick={() => setBrighter(!brighter)}>Brighter</Button>
      </div>
      <p class="soft small">{drawing ? "Draw around the piece with a finger: glints outside no longer count." : "Tap the photo where you saw light with your own eyes and it has no number."}</p>
      {places.length > 0 && (
        <section class="stack">
          <h2>Places</h2>
          <PlaceList photoKey={photoKey} file={file} places={places} settled={settled}
            onSay={(place, said) => onMarks((held) => marksAfter(held, place, said))}
            onTakeOff={(place) => changeMarks((held) => marksWithout(held, place), `Place ${place.number} taken off`)} />
          <p class="soft small">The squares show each place brightened. Two holes close together are one place.</p>
        </section>
      )}
      {work.machine && places.some(({ of }) => of !== null) && (
        <section class="stack">
          <h2>A second photo settles it</h2>
          <p>A glint and a bright pixel of the camera look like light through a hole. Take the same view again:</p>
          {(["lamp_off", "moved"] as const).map((how) => (
            <fieldset key={how} class="stack tight">
              <legend class="label">{SECOND[how].title}: {SECOND[how].hint.toLowerCase()}</legend>
              <PhotoPick busy={reading} camera="Photo" file="From a file" onPick={second(how)} />
            </fieldset>
          ))}
          {work.second && <Button icon="undo" onClick={onNoSecond}>Leave the second photo ({SECOND[work.second.how].title.toLowerCase()}) aside</Button>}
        </section>
      )}
      {work.machine && <p class="soft small">Found by {work.machine.algorithm}, constants set on rendered pictures; catalogue {work.machine.catalogue}.</p>}
    </>
  );
}

function Looking({ share }: { share: number }) {
  return (
    <div class="stack tight" role="status">
      <p>Looking through the photo…</p>
      <progress value={share} max={1} aria-label="Looked through" />
    </div>
  );
}
