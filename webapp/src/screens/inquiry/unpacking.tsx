// Unpacking: every claim in plain words, the dearest to look at first; one tap says that it held, and then come the other checks.
import { useMemo } from "preact/hooks";
import type { Catalogue, Check } from "../../domain/catalogue.ts";
import { places, ranked, type Piece } from "../../domain/checks.ts";
import { claimOutcome, type Claim, type ClaimOutcome } from "../../domain/claim_outcome.ts";
import { weigh } from "../../domain/evidence_weight.ts";
import { moment } from "../../device/moment.ts";
import { shareText } from "../../device/share.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Mark, type Tone } from "../../ui/mark.tsx";
import { EmptyState, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { saveResult } from "../check/save.ts";
import { PhotoButton } from "../photo/photo_button.tsx";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { today } from "../visit/today.ts";
import { useVisit, type ReadyVisit } from "../visit/use_visit.ts";
import { plain } from "../visit/view.ts";
import { nextTag, outcomeSign, placeWords, type Outcome } from "../visit/words.ts";
import { ReturnNote } from "./arrival.tsx";
import "./inquiry.css";
import { readInquiry, useInquiry } from "./use_inquiry.ts";

const SETTLED: Record<ClaimOutcome, { tone: Tone; word: string }> = {
  held: { tone: "good", word: "Held" }, did_not_hold: { tone: "bad", word: "Did not hold" },
  never_tested: { tone: "none", word: "Still to look at" }, nothing_claimed: { tone: "none", word: "They did not know" },
};

export interface ClaimToTest {
  check: Check;
  place: string;
  said: string;
  words: string;
  outcome: ClaimOutcome;
  /** The one place that a tap can answer; null where each of several is looked at. */
  spot: string | null;
}

/** What to look at first: one line for each check and place that somebody claimed something of; ignorance claims nothing. */
export function claimsToTest(claims: readonly (Claim & { words?: string })[], answers: Parameters<typeof claimOutcome>[1], piece: Piece, checks: readonly Check[], catalogue: Pick<Catalogue, "terms">): ClaimToTest[] {
  return ranked(checks).flatMap((check) => {
    const here = claims.filter((claim) => claim.check === check.id && claim.asserted);
    return [...new Set(here.map((claim) => claim.place ?? ""))].flatMap((place) => {
      const own = here.filter((claim) => (claim.place ?? "") === place);
      const best = weigh(own, catalogue);
      const outcome = best && claimOutcome({ check: check.id, place, asserted: { outcome: best.outcome } }, answers);
      if (!best || !outcome || outcome === "nothing_claimed") return [];
      const behind = catalogue.terms.evidence_kinds.find(({ id }) => id === best.evidence)?.title.toLowerCase() ?? best.evidence;
      const spots = place ? [place] : places(check, piece);
      return [{ check, place, spot: spots.length === 1 ? spots[0]! : null, said: best.outcome, words: `Claimed ${outcomeSign(best.outcome).word.toLowerCase()} (${behind})${best.agree ? "" : ", and otherwise, too"}`, outcome }];
    });
  });
}

export default function Unpacking({ params }: ScreenInput) {
  const ready = useVisit(params["visit"]!);
  if (ready === null) return <Missing />;
  return ready ? <ReadyUnpacking ready={ready} /> : <Waiting />;
}

function ReadyUnpacking({ ready: { view, catalogue, judged } }: { ready: ReadyVisit }) {
  const store = useStore();
  const visit = view.visit.id;
  const session = (view.visit.values["session"] as string | null | undefined) ?? null;
  const inquiry = useInquiry(session, view.piece.id);
  const unpacks = view.visit.values["occasion"] === "unpacking";
  const lines = useMemo(() => claimsToTest(view.claims.map(plain), view.answers.map(plain), plain(view.piece), judged.checks, catalogue), [view, catalogue, judged]);
  const begin = async () => {
    const tag = nextTag(view.open.map((one) => one.visit.values["tag"]));
    const id = await store.create("visit", { session, piece: view.piece.id, occasion: "unpacking", tag, began: moment() });
    const known = await readInquiry(store, session, view.piece.id);
    if (!known.record?.values["arrived"]) await store.set("inquiry", known.id, { ...(!known.record && { piece: view.piece.id, session }), arrived: today() });
    go(address("/visit", id, "/unpacking"), { replace: true });
  };
  const text = [`Unpacking: ${pieceTitle(view.piece)}`, ...lines.map((line, index) => `${index + 1}. ${titleOf(line)}. ${line.words}. ${line.check.do}`)].join("\n\n");
  const share = () => {
    shareText("Unpacking", text).then((how) => { if (how === "copied") showToast({ words: "List copied" }); },
      () => showToast({ words: "The phone let it be neither shared nor copied. Open Barnlight in an ordinary window and try again.", failed: true }));
  };
  return (
    <Screen title="Unpacking" over={pieceTitle(view.piece)} back={address("/visit", visit)} backWord="Back to the piece" keepPlace={`unpacking ${visit}`}
      foot={unpacks ? undefined : <Button kind="strong" wide icon="box" onClick={() => { begin().catch((error: unknown) => tellFailure(error, () => void begin())); }}>Begin the unpacking</Button>}>
      <ReturnNote until={inquiry?.record?.values["return_until"]} />
      {lines.length === 0 ? <EmptyState icon="box" title="Nothing was claimed" steps={["What a seller says is kept at the questions, or at a check as a claim.", "Without claims, take the five-minute pass as at a sale."]} />
        : <p>{unpacks ? "Look at each, then say what you found. A claim that did not hold is noted at its check, with the fault." : "These will be looked at first. Begin once the box is there: this makes a fresh look at the piece and notes the day it arrived."}</p>}
      {unpacks && <p class="soft small">Photograph the box and the packing first: that settles quarrels about the post.</p>}
      {unpacks && <div class="tools"><PhotoButton spot={{ visit, check: null, place: "" }} /></div>}
      <ul class="lines">{lines.map((line) => <ClaimLine key={`${line.check.id} ${line.place}`} line={line} visit={visit} open={unpacks} />)}</ul>
      {lines.length > 0 && <Button wide icon="share" onClick={share}>Copy or share this list</Button>}
      {unpacks && <Button wide icon="clock" href={address("/visit", visit, "/pass", "short")}>Then the five-minute pass</Button>}
    </Screen>
  );
}

const titleOf = ({ check, place }: ClaimToTest): string => [check.title, placeWords(place)].filter(Boolean).join(", ");

function ClaimLine({ line, visit, open }: { line: ClaimToTest; visit: string; open: boolean }) {
  const store = useStore();
  const { check, place, said, outcome } = line;
  const spot = { visit, check: check.id, place: line.spot ?? place };
  // A fault must be named, so that claim is settled at its check; "absent" needs its reason, which is the claim itself.
  const oneTap = line.spot !== null && ["in_order", "worn", "does_not_apply"].includes(said);
  const held = () => {
    saveResult(store, spot, { outcome: said as Outcome, ...(said === "does_not_apply" && { reason_text: "As claimed" }) }).then(
      () => showToast({ words: `${check.title}: held`, undo: () => { saveResult(store, spot, null).catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error, held),
    );
  };
  const at = address("/visit", visit, "/check", check.id, place ? { place } : {});
  return (
    <li class="line">
      <Mark {...SETTLED[outcome]} quiet hollow={outcome === "never_tested"} />
      <span class="stack tight">
        <span>{open && outcome !== "never_tested" ? <a class="name" href={at}>{titleOf(line)}</a> : <span class="name">{titleOf(line)}</span>}<span class="under">{line.words}{outcome !== "never_tested" && ` · ${SETTLED[outcome].word.toLowerCase()}`}</span></span>
        {open && outcome === "never_tested" && (
          <>
            <span class="soft small">{check.do}</span>
            <span class="row">
              {oneTap && <Button label={`Held: ${titleOf(line)}`} onClick={held}>Held</Button>}
              <Button href={at} label={`Did not hold, or look closer: ${titleOf(line)}`}>{oneTap ? "Did not hold" : "Look at it"}</Button>
            </span>
          </>
        )}
      </span>
      <span />
    </li>
  );
}
