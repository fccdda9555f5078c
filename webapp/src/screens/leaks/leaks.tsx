// Leak finder of a check: a photo in the dark is taken or chosen, looked through, and kept with what the person says of each place.
import { useEffect, useState } from "preact/hooks";
import { NotAPicture } from "../../device/camera.ts";
import { keepAwake } from "../../device/wake_lock.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { Rec, Store } from "../../store/store.ts";
import { ErrorNote, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { addPhoto } from "../photo/add_photo.ts";
import "../photo/photo.css";
import { Versions } from "../history/versions.tsx";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { absenceWords, StoredImage } from "../visit/stored_image.tsx";
import { useVisit, type ReadyVisit } from "../visit/use_visit.ts";
import { useWayBack } from "../visit/way_back.ts";
import { Desk } from "./desk.tsx";
import { findPlaces, letPhotoGo } from "./find.ts";
import { HowTo } from "./how_to.tsx";
import "./leaks.css";
import { PhotoPick, type Origin } from "./photo_pick.tsx";
import { useStoredPhoto } from "./stored_photo.ts";
import { readingId, type Work, workOf } from "./work.ts";

export default function Leaks({ params, query }: ScreenInput) {
  const ready = useVisit(params["visit"]!);
  useEffect(() => keepAwake(), []);
  useEffect(() => letPhotoGo, []);
  if (ready === null) return <Missing />;
  if (!ready) return <Waiting />;
  return <OfCheck ready={ready} check={query["check"] ?? null} place={query["place"] ?? ""} photo={query["photo"] ?? null} />;
}

interface OfCheckProps { ready: ReadyVisit; check: string | null; place: string; photo: string | null }

function OfCheck({ ready, check, place, photo }: OfCheckProps) {
  const store = useStore();
  const [keeping, setKeeping] = useState(false);
  const visit = ready.view.visit.id;
  const title = ready.judged.checks.find((one) => one.id === check)?.title;
  const here = { check: check ?? "", place };
  const wayBack = useWayBack(visit, check, place);
  const photos = ready.view.photos.filter((one) => (one.values["check"] ?? null) === check && (one.values["place"] ?? "") === place);
  const chosen = photos.find((one) => one.id === photo) ?? ready.view.photos.find((one) => one.id === photo);

  const add = async (file: Blob, origin: Origin): Promise<void> => {
    setKeeping(true);
    try {
      const id = await addPhoto(store, file, { visit, check, place }, { origin, fullSize: true });
      go(address("/visit", visit, "/leaks", { ...here, photo: id }));
    } catch (error) {
      if (error instanceof NotAPicture) showToast({ words: error.message, failed: true });
      else tellFailure(error, () => void add(file, origin));
    } finally {
      setKeeping(false);
    }
  };

  return (
    <Screen title="Leak finder" over={title ?? pieceTitle(ready.view.piece)} focusOn={photo ?? ""} {...wayBack}>
      {chosen ? <OfPhoto key={chosen.id} photo={chosen} revision={ready.catalogue.revision} spot={{ visit, check, place }} /> : <HowTo />}
      <section class="stack">
        <h2>{chosen ? "Another photo" : "The photo"}</h2>
        <PhotoPick busy={keeping} camera="Take it" file="From a file" onPick={(file, origin) => void add(file, origin)} />
      </section>
      {photos.length > 0 && (
        <section class="stack tight">
          <h2>Photos of this check</h2>
          <div class="leak-photos">
            {photos.map((one, index) => (
              <a key={one.id} href={address("/visit", visit, "/leaks", { ...here, photo: one.id })} aria-current={one.id === photo ? "true" : undefined}>
                <StoredImage hash={one.values["file"].hash} alt={one.values["caption"] || `Photo ${index + 1}`} by={one.fields["file"]?.author} />
              </a>
            ))}
          </div>
        </section>
      )}
    </Screen>
  );
}

interface Spot { visit: string; check: string | null; place: string }

function OfPhoto({ photo, revision, spot }: { photo: Rec; revision: number; spot: Spot }) {
  const store = useStore();
  const { hash, width, height } = photo.values["file"] as { hash: string; width: number; height: number };
  const bytes = useStoredPhoto(hash);
  const read = useLive(async (from) => {
    const id = await readingId(photo.id);
    const reading = await from.get(id);
    const second = reading?.values["second"] as { photo: string } | null | undefined;
    return { id, work: workOf(reading, second ? await from.get(second.photo) : undefined) };
  }, [photo.id]);
  if (typeof bytes === "string") return <ErrorNote what="The photo is not on this phone." todo={`${absenceWords(bytes, photo.fields["file"]?.author)}. Come back when it is here.`} />;
  if (!bytes || !read) return <Waiting />;

  const save = (fields: Partial<Work>): Promise<void> =>
    saveReading(store, spot.visit, photo.id, { ...fields }).catch((error: unknown) => tellFailure(error, () => void save(fields)));
  const saveMarks = (make: (held: Work["marks"]) => Work["marks"]): void => {
    changeMarks(store, spot.visit, photo.id, make).catch((error: unknown) => tellFailure(error, () => saveMarks(make)));
  };
  const keepSecond = async (file: Blob, origin: Origin, how: "lamp_off" | "moved", hear: (share: number) => void) => {
    const id = await addPhoto(store, file, spot, { origin, fullSize: true });
    const kept = (await store.get(id))!.values["file"] as { hash: string };
    const stored = (await store.getMedia(kept.hash))!;
    const machine = await findPlaces(kept.hash, new Blob([stored.bytes], { type: stored.type }), hear);
    await saveReading(store, spot.visit, photo.id, { second: { photo: id, how, machine: { ...machine, catalogue: revision } } });
    showToast({ words: "Second photo kept beside the first", undo: () => void save({ second: null }) });
  };
  return (
    <>
      <Versions record={read.id} />
      <Desk photoKey={hash} file={bytes} width={width} height={height} work={read.work} revision={revision}
        onChange={(fields) => void save(fields)} onMarks={saveMarks} onSecond={keepSecond} onNoSecond={() => void save({ second: null })} />
    </>
  );
}

async function saveReading(store: Store, visit: string, photo: string, fields: Record<string, unknown>): Promise<void> {
  await store.set("leak_reading", await readingId(photo), { visit, photo, ...fields });
}

async function changeMarks(store: Store, visit: string, photo: string, make: (held: Work["marks"]) => Work["marks"]): Promise<void> {
  await saveReading(store, visit, photo, {});
  await store.change<Work["marks"]>("leak_reading", await readingId(photo), "marks", (held) => make(held ?? []));
}
