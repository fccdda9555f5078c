// One photo: its spots, its words, whether it goes into the report, and which piece it belongs to.
import { useMemo, useState } from "preact/hooks";
import { useLive, useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { go } from "../../ui/route.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { kept, openPieces } from "../visit/view.ts";
import { wayBack } from "../visit/way_back.ts";
import { MoveSheet } from "./move_sheet.tsx";
import { SpotPicture } from "./spot_picture.tsx";
import { spotWords, type At } from "./spots.ts";
import "./photo.css";

/** Spots are numbered in the order they were marked. */
const inOrder = (a: Rec, b: Rec): number => (a.fields["photo"]?.stamp ?? "").localeCompare(b.fields["photo"]?.stamp ?? "");

export default function Photo({ params }: ScreenInput) {
  const id = params["photo"]!;
  const store = useStore();
  const [moving, setMoving] = useState(false);
  const cameBy = useMemo(() => wayBack(params["visit"]!, ""), [id]);
  const read = useLive(async (from) => {
    const photo = await from.get(id);
    if (photo?.kind !== "photo" || !kept(photo)) return null;
    const visit = await from.get(photo.values["visit"]);
    const spots = (await from.children(id, "spot")).filter(kept).sort(inOrder);
    const open = visit?.values["session"] ? await openPieces(from, visit.values["session"]) : [];
    return { photo, visit, spots, open };
  }, [id]);
  if (read === null) return <Missing what="photo" />;
  if (!read) return <Waiting />;

  const { photo, visit, spots, open } = read;
  const { values } = photo;
  const owner = open.find((one) => one.visit.id === visit?.id);
  const set = (kind: string, record: string, fields: Record<string, unknown>): Promise<void> =>
    store.set(kind, record, fields).catch((error: unknown) => tellFailure(error, () => void set(kind, record, fields)));

  const mark = (spot: At) => {
    store.create("spot", { photo: id, at: spot }).then(
      (made) => showToast({ words: `Spot ${spots.length + 1}, ${spotWords(spot)}`, undo: () => void set("spot", made, { deleted: true }) }),
      (error: unknown) => tellFailure(error, () => mark(spot)),
    );
  };
  const remove = (spot: Rec, number: number) => {
    void set("spot", spot.id, { deleted: true });
    showToast({ words: `Spot ${number} taken off`, undo: () => void set("spot", spot.id, { deleted: false }) });
  };
  const takeOff = () => {
    void set("photo", id, { deleted: true });
    showToast({ words: "Photo taken off", undo: () => void set("photo", id, { deleted: false }) });
    go(`#/visit/${values["visit"]}`);
  };
  const back = cameBy || (values["check"] ? `#/visit/${values["visit"]}/check/${values["check"]}?place=${encodeURIComponent(values["place"] ?? "")}` : `#/visit/${values["visit"]}`);

  return (
    <Screen title="Photo" over={`${owner?.visit.values["tag"] ?? ""} ${pieceTitle(owner?.piece)}`.trim()} back={back}>
      <SpotPicture hash={values["file"].hash} alt={values["caption"] || "Photo"} by={photo.fields["file"]?.author} width={values["file"].width} height={values["file"].height}
        spots={spots.map((spot) => ({ id: spot.id, at: spot.values["at"] as At }))} onMark={mark} />
      <p class="soft small">Tap the picture to mark a spot.{values["origin"] === "made_by_code" && " This picture was made by code, for the demo."}</p>
      {spots.length > 0 && (
        <ol class="spot-list stack">
          {spots.map((spot, index) => (
            <li key={spot.id}>
              <span class="number" aria-hidden="true">{index + 1}</span>
              <div class="grow"><Versions record={spot.id} /><SavedField key={spot.id} label={`Spot ${index + 1}, ${spotWords(spot.values["at"])}`} saved={spot.values["label"] ?? ""} max={200} onSave={(label) => void set("spot", spot.id, { label })} /></div>
              <Button kind="bare" icon="bin" label={`Take spot ${index + 1} off`} onClick={() => remove(spot, index + 1)} />
            </li>
          ))}
        </ol>
      )}
      <Versions record={id} check={values["check"]} />
      <SavedField key={id} label="Caption" saved={values["caption"] ?? ""} max={400} onSave={(caption) => void set("photo", id, { caption })} />
      <div class="stack">
        <Button wide pressed={values["left_out"] === true} onClick={() => void set("photo", id, { left_out: values["left_out"] !== true })}>
          {values["left_out"] ? "Left out of the report" : "Leave out of the report"}
        </Button>
        <Button wide href={`#/visit/${values["visit"]}/photo/${id}/cover`}>Paint over or cut</Button>
        {open.length > 1 && <Button wide icon="move" onClick={() => setMoving(true)}>Move to another piece</Button>}
        <Button wide kind="danger" icon="bin" onClick={takeOff}>Take this photo off</Button>
      </div>
      {moving && <MoveSheet open={open} photo={photo} onClose={() => setMoving(false)} onMove={(to) => { setMoving(false); void set("photo", id, to); }} />}
    </Screen>
  );
}
