// Leak finder on its own, without a sale or piece: the photo is looked through and forgotten when the screen is left.
import { useEffect, useState } from "preact/hooks";
import { NotAPicture, preparePhoto } from "../../device/camera.ts";
import { keepAwake } from "../../device/wake_lock.ts";
import { Note, Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { showToast } from "../../ui/toast.tsx";
import "../photo/photo.css";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { Desk } from "./desk.tsx";
import { findPlaces, letPhotoGo } from "./find.ts";
import { HowTo } from "./how_to.tsx";
import "./leaks.css";
import { PhotoPick } from "./photo_pick.tsx";
import { EMPTY, type Work } from "./work.ts";

interface Photo { key: string; file: Blob; width: number; height: number }

let turn = 0;

/** Upright, with nothing but pixels, at its full size. Rejects with NotAPicture. */
async function prepared(file: Blob): Promise<Photo> {
  const { bytes, type, width, height } = await preparePhoto(file, Infinity);
  turn += 1;
  return { key: `bench ${turn}`, file: new Blob([bytes], { type }), width, height };
}

export default function LeakBench(_: ScreenInput) {
  const catalogue = useCatalogue();
  const [busy, setBusy] = useState(false);
  const [photo, setPhoto] = useState<Photo | null>(null);
  const [work, setWork] = useState<Work>(EMPTY);
  useEffect(() => keepAwake(), []);
  useEffect(() => letPhotoGo, []);
  if (!catalogue) return <Waiting />;

  const take = async (file: Blob) => {
    setBusy(true);
    try {
      setPhoto(await prepared(file));
      setWork(EMPTY);
    } catch (error) {
      showToast({ words: error instanceof NotAPicture ? error.message : "The phone could not read this photo. Try again.", failed: true });
    } finally {
      setBusy(false);
    }
  };
  const second = async (file: Blob, how: "lamp_off" | "moved", hear: (share: number) => void) => {
    const other = await prepared(file);
    const machine = await findPlaces(other.key, other.file, hear);
    setWork((before) => ({ ...before, second: { photo: other.key, how, width: other.width, height: other.height, machine: { ...machine, catalogue: catalogue.revision } } }));
  };

  return (
    <Screen title="Leak finder" over="On the bench" back="#/bench" backWord="Back to the bench" focusOn={photo?.key ?? ""}>
      {photo
        ? <Desk key={photo.key} photoKey={photo.key} file={photo.file} width={photo.width} height={photo.height} work={work} revision={catalogue.revision}
            onChange={(fields) => setWork((before) => ({ ...before, ...fields }))} onMarks={(make) => setWork((before) => ({ ...before, marks: make(before.marks) }))}
            onSecond={(file, _origin, how, hear) => second(file, how, hear)} onNoSecond={() => setWork((before) => ({ ...before, second: null }))} />
        : <HowTo />}
      <section class="stack">
        <h2>{photo ? "Another photo" : "The photo"}</h2>
        <PhotoPick busy={busy} camera="Take it" file="From a file" onPick={(file) => void take(file)} />
      </section>
      <Note tone="tell"><p>Nothing of this is kept. To keep photo and places, open the leak finder from a check of a piece.</p></Note>
    </Screen>
  );
}
