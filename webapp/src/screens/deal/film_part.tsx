// Films made with the piece, and what each says about the claims that were made: held, or did not hold.
import { useState } from "preact/hooks";
import { claimOutcome } from "../../domain/claim_outcome.ts";
import { useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { address } from "../../ui/route.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import type { ReadyVisit } from "../visit/use_visit.ts";
import { dayWords, outcomeSign, speedWords } from "../visit/words.ts";
import { type FilmTest, saveFilmTest } from "./film_save.ts";
import { FilmSheet } from "./film_sheet.tsx";
import { put } from "./put.ts";
import type { After } from "./use_after.ts";

export function setupWords(setup: Record<string, any> = {}): string {
  return [setup["holder"] && `holder ${setup["holder"]}`, setup["side"] && `side ${String(setup["side"]).toUpperCase()}`, setup["speed"] && speedWords(setup["speed"].text), setup["stop"]].filter(Boolean).join(", ");
}

export function FilmPart({ ready: { view, judged, catalogue }, after: { films, claims, seen, seller } }: { ready: ReadyVisit; after: After }) {
  const store = useStore();
  const [asking, setAsking] = useState(false);
  const checkTitle = (id: string) => catalogue.checks.find((one) => one.id === id)?.title ?? id;
  const save = (test: FilmTest) => {
    saveFilmTest(store, view, test).then((back) => {
      setAsking(false);
      showToast({ words: test.fault ? "Film test kept, and the fault is at its check" : "Film test kept", undo: () => { back().catch((error: unknown) => tellFailure(error)); } });
    }, (error: unknown) => tellFailure(error, () => save(test)));
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
              <Button kind="bare" icon="bin" label={`Take off the film test of ${dayWords(one.values["day"])}`} onClick={() => put(store, "film_test", one.id, { deleted: true }, "Film test taken off")} />
            </div>
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

function ClaimLines({ film, claims, seen }: { film: Rec } & Pick<After, "claims" | "seen">) {
  const told = claims.filter((claim) => claim.asserted && claim.check === film.values["check"]);
  if (told.length === 0) return null;
  const ENDS = { held: "it held", did_not_hold: "it did not hold", never_tested: "never tested so far", nothing_claimed: "it claims nothing" } as const;
  return <ul>{told.map((claim) => <li key={claim.id} class="small">{claim.by === "seller" ? "The seller claimed" : "It was claimed"}: {outcomeSign(claim.asserted!.outcome).word.toLowerCase()}. By what was seen since, {ENDS[claimOutcome(claim, seen)]}.</li>)}</ul>;
}
