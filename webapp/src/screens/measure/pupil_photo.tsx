// The pupil from a photo with a ruler in it; in a session the photo is kept at its check, at the bench nowhere.
import { useState } from "preact/hooks";
import { atAnotherDepth, pupilFromTaps } from "../../domain/aperture_photo.ts";
import { type Figure } from "../../domain/uncertainty.ts";
import type { LengthUnit } from "../../domain/lengths.ts";
import { NotAPicture, preparePhoto, type ShrunkPhoto } from "../../device/camera.ts";
import { moment } from "../../device/moment.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { showToast } from "../../ui/toast.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { type Origin, PhotoPick } from "../leaks/photo_pick.tsx";
import { keepPhoto, type PhotoSpot } from "../photo/add_photo.ts";
import { lengthWords } from "./figure_words.ts";
import { mmIn, reckon, type Words } from "./plan.ts";
import { TapPicture } from "./tap_picture.tsx";
import { NAMES, type Tap } from "./taps.ts";
import { NotYet } from "./not_yet.tsx";

export interface PupilPhotoProps {
  unit: LengthUnit;
  /** Where the photo is kept; null keeps it nowhere. */
  spot: PhotoSpot | null;
  onPupil: (pupil: Figure) => void;
}

const NO_TAPS: readonly (Tap | undefined)[] = NAMES.map(() => undefined);

/** Pupil from the taps; null while too little is there. */
function pupilOf(taps: readonly (Tap | undefined)[], words: Words, unit: LengthUnit): Figure | null {
  const all = taps.filter((tap) => tap !== undefined);
  const ruler = mmIn(words, "ruler", unit);
  if (all.length < NAMES.length || ruler === null) return null;
  const [one, other, edge, far] = all.map(({ x, y }) => [x, y] as const);
  const { pupil_mm } = pupilFromTaps([one!, other!], ruler, [edge!, far!], Math.max(...all.map(({ u_px }) => u_px)));
  const [behind, camera] = [mmIn(words, "behind", unit), mmIn(words, "camera", unit)];
  return behind === null || camera === null ? pupil_mm : atAnotherDepth(pupil_mm, behind, camera);
}

export function PupilPhoto({ unit, spot, onPupil }: PupilPhotoProps) {
  const store = useStore();
  const [busy, setBusy] = useState(false);
  const [photo, setPhoto] = useState<{ file: Blob; width: number; height: number } | null>(null);
  const [taps, setTaps] = useState(NO_TAPS);
  const [words, setWords] = useState<Words>({});
  const keep = (shrunk: ShrunkPhoto, origin: Origin): void => {
    if (!spot) return;
    keepPhoto(store, shrunk, spot, origin, moment()).then(() => showToast({ words: "Photo kept" }), (error: unknown) => tellFailure(error, () => keep(shrunk, origin)));
  };
  const take = async (file: Blob, origin: Origin) => {
    setBusy(true);
    try {
      const shrunk = await preparePhoto(file);
      const { bytes, type, width, height } = shrunk;
      setPhoto({ file: new Blob([bytes], { type }), width, height });
      setTaps(NO_TAPS);
      keep(shrunk, origin);
    } catch (error) {
      showToast({ words: error instanceof NotAPicture ? error.message : "The phone could not read this photo. Try again.", failed: true });
    } finally {
      setBusy(false);
    }
  };
  const field = (id: string, label: string, hint: string) => (
    <TextField label={`${label} (${unit === "in" ? "inch" : "mm"})`} hint={hint} keyboard="decimal" max={40} value={words[id] ?? ""} onInput={(text) => setWords({ ...words, [id]: text })} />
  );
  const found = reckon(() => pupilOf(taps, words, unit));
  return (
    <details class="fold">
      <summary>Measure the hole on a photo</summary>
      <div class="inside stack">
        <p>Hold a ruler flat against the front rim and photograph straight on, from an arm's length or more. Tap two marks of the ruler, then both edges of the hole.</p>
        <PhotoPick busy={busy} camera="Take it" file="From a file" onPick={(file, origin) => void take(file, origin)} />
        {photo && (
          <>
            <TapPicture photo={photo} taps={taps} onTaps={setTaps} />
            {field("ruler", "Between the two marks of the ruler", "The longer, the surer")}
            {field("behind", "Hole behind the ruler", "How deep it looks inside; leave empty if beside it")}
            {field("camera", "Camera to ruler", "Needed only with the line above")}
            {found && "value" in found
              ? <div class="row"><p class="grow"><strong class="figures">{lengthWords(found.value, unit)}</strong></p><Button kind="strong" onClick={() => onPupil(found.value)}>Use this width</Button></div>
              : <NotYet wrong={found?.wrong} words="Four taps and the length on the ruler give the width." />}
          </>
        )}
      </div>
    </details>
  );
}
