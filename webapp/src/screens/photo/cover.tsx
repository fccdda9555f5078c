// Painting over a face, a room or a name, or cutting them away, before a photo goes into a report.
import { useState } from "preact/hooks";
import { coverPhoto } from "../../device/cover_photo.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { ErrorNote, Waiting } from "../../ui/notes.tsx";
import { go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Missing } from "../visit/missing.tsx";
import { kept } from "../visit/view.ts";
import { BoxPicture } from "./box_picture.tsx";
import { inPixels, LEAST_KEPT_PX, spotWithin, type Box } from "./covering.ts";
import type { At } from "./spots.ts";
import "./photo.css";

type Doing = "paint" | "cut";
const DOING = [{ value: "paint", label: "Paint over", hint: "As many boxes as you like" }, { value: "cut", label: "Cut to a box", hint: "The rest goes" }] as const;

export default function Cover({ params }: ScreenInput) {
  const id = params["photo"]!;
  const read = useLive(async (from) => {
    const photo = await from.get(id);
    if (photo?.kind !== "photo" || !kept(photo)) return null;
    return { photo, spots: (await from.children(id, "spot")).filter(kept), bytes: await from.media.find(photo.values["file"].hash) };
  }, [id]);
  if (read === null) return <Missing what="photo" />;
  if (!read) return <Waiting />;
  const back = `#/visit/${read.photo.values["visit"]}/photo/${id}`;
  if (typeof read.bytes === "string") {
    return <Screen title="Paint over or cut" back={back}><ErrorNote what="This photo is not on this phone." todo="Do it on the phone that took it, or here when there is a signal." /></Screen>;
  }
  return <Covering key={read.photo.values["file"].hash} photo={read.photo} spots={read.spots} bytes={read.bytes.bytes} back={back} />;
}

function Covering({ photo, spots, bytes, back }: { photo: Rec; spots: readonly Rec[]; bytes: ArrayBuffer; back: string }) {
  const store = useStore();
  const [doing, setDoing] = useState<Doing>("paint");
  const [painted, setPainted] = useState<readonly Box[]>([]);
  const [cut, setCut] = useState<Box | null>(null);
  const [saving, setSaving] = useState(false);
  const [problem, setProblem] = useState("");
  const { hash, width, height } = photo.values["file"] as { hash: string; width: number; height: number };
  const nothing = painted.length === 0 && cut === null;

  const add = (box: Box) => {
    const pixels = inPixels(box, width, height);
    const small = doing === "cut" && Math.min(pixels.width, pixels.height) < LEAST_KEPT_PX;
    setProblem(small ? "That box is too small to be a photo. Draw a larger one." : "");
    if (small) return;
    if (doing === "paint") setPainted([...painted, box]);
    else setCut(box);
  };
  const takeBack = () => {
    if (doing === "cut" && cut) setCut(null);
    else setPainted(painted.slice(0, -1));
  };
  const save = async () => {
    setSaving(true);
    try {
      const made = await coverPhoto(new Blob([bytes], { type: photo.values["file"].type }), painted.map((box) => inPixels(box, width, height)), cut && inPixels(cut, width, height));
      const { hash: fresh } = await store.putMedia(made.bytes, made.type);
      const before = { file: photo.values["file"], spots: spots.map((spot) => ({ id: spot.id, at: spot.values["at"] as At })) };
      await store.set("photo", photo.id, { file: { hash: fresh, type: made.type, bytes: made.bytes.byteLength, width: made.width, height: made.height } });
      if (cut) for (const spot of before.spots) await place(spot.id, spotWithin(spot.at, cut));
      const undo = async () => {
        await store.set("photo", photo.id, { file: before.file });
        if (cut) for (const spot of before.spots) await place(spot.id, spot.at);
      };
      showToast({ words: cut ? "Photo cut" : "Photo painted over", undo: () => void undo().catch((error: unknown) => tellFailure(error, () => void undo())) });
      go(back);
    } catch (error) {
      setSaving(false);
      tellFailure(error, () => void save());
    }
  };
  const place = (spot: string, to: At | null) => store.set("spot", spot, to ? { at: to, deleted: false } : { deleted: true });

  return (
    <Screen title="Paint over or cut" back={back} foot={<Button wide kind="strong" disabled={nothing || saving} onClick={() => void save()}>{saving ? "Being drawn…" : "Keep it like this"}</Button>}>
      <p>For faces, rooms, and names on labels. What is painted over or cut away is not in the new picture at all.</p>
      <BigChoice legend="What the finger does" options={DOING} value={doing} onChoose={setDoing} />
      <BoxPicture hash={hash} width={width} height={height} painted={painted} cut={cut} onBox={add} />
      {problem && <p class="strong" role="alert">{problem}</p>}
      <Button wide icon="undo" disabled={nothing} onClick={takeBack}>Take the last box back</Button>
      <p class="soft small">The photo as it was stays in your own book, where you can put it back. It never goes into a report made from now on.</p>
    </Screen>
  );
}
