// Films made with the piece, and what each says about the claims that were made: held, or did not hold.
import { useState } from "preact/hooks";
import { claimOutcome } from "../../domain/claim_outcome.ts";
import { NotAPicture } from "../../device/camera.ts";
import { useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { address, go } from "../../ui/route.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { PhotoStrip } from "../check/place_photos.tsx";
import { Versions } from "../history/versions.tsx";
import { type Origin, PhotoPick } from "../leaks/photo_pick.tsx";
import { addPhoto } from "../photo/add_photo.ts";
import type { ReadyVisit } from "../visit/use_visit.ts";
import { dayWords, outcomeSign, speedWords } from "../visit/words.ts";
import { type FilmTest, saveFilmTest } from "./film_save.ts";
import { FilmSheet } from "./film_sheet.tsx";
import type { After } from "./use_after.ts";

export function setupWords(setup: Record<string, any> = {}): string {
  return [setup["holder"] && `holder ${setup["holder"]}`, setup["side"] && `side ${String(setup["side"]).toUpperCase()}`, setup["speed"] && speedWords(setup["speed"].text), setup["stop"]].filter(Boolean).join(", ");
}

export function FilmPart({ ready: { view, judged, catalogue }, after: { films, photos, claims, seen, seller } }: { ready: ReadyVisit; after: After }) {
  const store = useStore();
  const [asking, setAsking] = useState(false);
  const checkTitle = (id: string) => catalogue.checks.find((one) => one.id === id)?.title ?? id;
  const save = (test: FilmTest) => {
    saveFilmTest(store, view, test).then((back) => {
      setAsking(false);
      showToast({ words: test.fault ? "Film test kept, and the fault is at its check" : "Film test kept", undo: () => { back().catch((error: unknown) => tellFailure(error)); } });
    }, (error: unknown) => tellFailure(error, () => save(test)));
  };
  const takeOff = (film: Rec) => {
    const both = [{ kind: "film_test", id: film.id }, ...(photos.has(film.values["photo"]) ? [{ kind: "photo", id: film.values["photo"] as string }] : [])];
    const set = (deleted: boolean, done?: () => void): void => {
      store.setAll(both.map((one) => ({ ...one, values: { deleted } }))).then(done, (error: unknown) => tellFailure(error, () => set(deleted, done)));
    };
    set(true, () => showToast({ words: "Film test taken off", undo: () => set(false) }));
  };
  return (
    <section class="stack" aria-labelledby="films">
      <h2 id="films">First film</h2>
      {films.length === 0 && <p class="soft">None noted yet. A film says what no look can: note holder, side, speed and stop with each picture.</p>}
      <ul class="lines">
        {films.map((one) => (
          <li key={one.id} class="stack tight">
            <Versions record={one.id} />
            <div class="line">
              <Icon name="page" />
              <span>
                <span class="name">{one.values["found"] || "Nothing noted"}</span>
                <span class="under figures">{[dayWords(one.values["day"]), setupWords(one.values["setup"])].filter(Boolean).join("; ")}</span>
                {one.values["check"] && <span class="under">About: {checkTitle(one.values["check"])}</span>}
              </span>
              <Button kind="bare" icon="bin" label={`Take off the film test of ${dayWords(one.values["day"])}`} onClick={() => takeOff(one)} />
            </div>
            <FilmPhoto film={one} photo={photos.get(one.values["photo"] ?? "")} visit={view.visit.id} />
            <ClaimLines film={one} claims={claims} seen={seen} />
          </li>
        ))}
      </ul>
      {seller && films.some(({ values }) => values["check"]) && <Button icon="people" href={address("/seller", seller.id)}>The seller's story</Button>}
      <Button icon="plus" onClick={() => setAsking(true)}>Note a film test</Button>
      {asking && <FilmSheet piece={view.piece.values} checks={judged.checks} onDone={save} onClose={() => setAsking(false)} />}
    </section>
  );
}

/** One photo of the negative or print, kept at once like a check's; the report shows it with the film. */
function FilmPhoto({ film, photo, visit }: { film: Rec; photo: Rec | undefined; visit: string }) {
  const store = useStore();
  const [saving, setSaving] = useState(false);
  const add = async (file: Blob, origin: Origin): Promise<void> => {
    setSaving(true);
    try {
      const made = await addPhoto(store, file, { visit, check: null, place: "" }, { origin, fullSize: false });
      await store.set("film_test", film.id, { photo: made });
      showToast({ words: "Photo kept with the film", more: { word: "Mark spots", run: () => go(address("/visit", visit, "/photo", made)) } });
    } catch (error) {
      if (error instanceof NotAPicture) showToast({ words: error.message, failed: true });
      else tellFailure(error, () => void add(file, origin));
    } finally {
      setSaving(false);
    }
  };
  return photo ? <PhotoStrip photos={[photo]} visit={visit} /> : <PhotoPick busy={saving} camera="Photo of it" file="From a file" onPick={(file, origin) => void add(file, origin)} />;
}

function ClaimLines({ film, claims, seen }: { film: Rec } & Pick<After, "claims" | "seen">) {
  const told = claims.filter((claim) => claim.asserted && claim.check === film.values["check"]);
  if (told.length === 0) return null;
  const ENDS = { held: "it held", did_not_hold: "it did not hold", never_tested: "never tested so far", nothing_claimed: "it claims nothing" } as const;
  return <ul>{told.map((claim) => <li key={claim.id} class="small">{claim.by === "seller" ? "The seller claimed" : "It was claimed"}: {outcomeSign(claim.asserted!.outcome).word.toLowerCase()}. By what was seen since, {ENDS[claimOutcome(claim, seen)]}.</li>)}</ul>;
}
