// One check on one screen: read it, look, tap what you found; used by a pass and by a check opened on its own.
import { useState } from "preact/hooks";
import type { Check } from "../../domain/catalogue.ts";
import { places as placesOf } from "../../domain/checks.ts";
import { answerId } from "../../domain/ids.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { Versions } from "../history/versions.tsx";
import { BriefLine } from "../visit/brief_line.tsx";
import { GroupList } from "../visit/group_list.tsx";
import { ShutterFacts } from "../visit/shutter_facts.tsx";
import { TagBar } from "../visit/tag_bar.tsx";
import type { ReadyVisit } from "../visit/use_visit.ts";
import { plain } from "../visit/view.ts";
import "../visit/visit.css";
import type { Outcome } from "../visit/words.ts";
import { AnswerSheets } from "./answer_sheets.tsx";
import "./check.css";
import { CheckText } from "./check_text.tsx";
import { CheckTools } from "./check_tools.tsx";
import { ClaimLines } from "./claim_lines.tsx";
import { OutcomeButtons } from "./outcome_buttons.tsx";
import { PlacePhotos } from "./place_photos.tsx";
import { PlacePicker } from "./place_picker.tsx";
import { Readings } from "./readings.tsx";
import { useAnswering } from "./use_answering.ts";
import { useKeys } from "./use_keys.ts";
import { WordsSheet } from "./words_sheet.tsx";

/** At this check the kind and its speeds are put down where they are seen. */
const SHUTTER_KIND = "lens.shutter.kind";

export interface CheckScreenProps {
  ready: ReadyVisit;
  check: Check;
  place: string;
  /** Where this stands: "Bellows · 4 of 12". */
  over: string;
  /** 0 to 1 of the pass; none on a check opened on its own. */
  part?: number;
  /** The address of another check, so that the list and the next look stay in the pass that is under way. */
  addressOf: (check: string) => string;
  onPlace: (place: string) => void;
  /** Called at once after an answer, with the places it went to. */
  onNext: (done: readonly string[]) => void;
  /** To the step before; absent at the first. */
  onBefore?: () => void;
  onLater: () => void;
  onNeighbour: (by: 1 | -1) => void;
}

export function CheckScreen({ ready, check, place, over, part, addressOf, onPlace, onNext, onBefore, onLater, onNeighbour }: CheckScreenProps) {
  const store = useStore();
  const { view, catalogue, judged } = ready;
  const piece = plain(view.piece);
  const spot = { visit: view.visit.id, check: check.id, place };
  const places = placesOf(check, piece);
  const setPiece = (fields: Record<string, unknown>) => {
    store.set("piece", piece.id, fields).catch((error: unknown) => tellFailure(error, () => setPiece(fields)));
  };
  // What was bought from afar is in the hand once it is unpacked.
  const remote = view.session?.values["remote"] === true && ["sale", undefined].includes(view.visit.values["occasion"]);
  const [claimed, setClaimed] = useState(remote);
  const [forAll, setForAll] = useState(false);
  const [open, setOpen] = useState<"list" | "words" | null>(null);
  // As the next check is drawn and not after it: a tap that comes at once must not be taken back.
  const [of, setOf] = useState(check.id);
  if (of !== check.id) {
    setOf(check.id);
    setForAll(false);
    // One claim noted between two looks does not make claims of the looks that follow.
    if (!remote) setClaimed(false);
  }

  /** Another check takes the place of this one: the phone's own way back leads out, as it does after an answer. */
  const toCheck = (event: MouseEvent, id: string) => {
    event.preventDefault();
    go(addressOf(id), { replace: true });
  };

  const result = judged.resultAt(check.id, place);
  const words = judged.recordAt(check.id, place);
  const targets = forAll ? places.filter((one) => one === place || !judged.resultAt(check.id, one)) : [place];
  const answering = useAnswering({ visit: spot.visit, piece: piece.id, check, place, targets, resultAt: judged.resultAt, claimed, onNext, onReturn: onPlace });
  useKeys({ onOutcome: answering.choose, onNeighbour });

  return (
    <Screen
      title={check.title}
      over={over}
      back={`#/visit/${spot.visit}`}
      backWord="Back to the piece"
      focusOn={`${check.id} ${place}`}
      actions={<Button kind="bare" icon="list" label="All checks" onClick={() => setOpen("list")} />}
      under={
        <>
          {part !== undefined && <div class="bar-fill" aria-hidden="true"><span style={{ transform: `scaleX(${part})` }} /></div>}
          <TagBar open={view.open} current={spot.visit} />
          <BriefLine judged={judged} visit={spot.visit} check={check.id} addressOf={addressOf} onPick={toCheck} />
        </>
      }
      foot={
        <div class="answer-foot">
          {claimed && <p class="as-claimed">Claimed, not seen by you</p>}
          <OutcomeButtons chosen={claimed ? undefined : result?.outcome as Outcome | undefined} onChoose={answering.choose} onBefore={onBefore} onLater={onLater} />
        </div>
      }
    >
      {places.length > 1 && <PlacePicker check={check.id} places={places} current={place} resultAt={judged.resultAt} onPick={onPlace} forAll={forAll} onForAll={setForAll} />}
      <Versions record={answerId(spot.visit, check.id, place)} check={check.id} />
      <CheckText check={check} catalogue={catalogue} />
      {check.id === SHUTTER_KIND && <Versions record={piece.id} fields={["shutter_kind", "speeds"]} />}
      {check.id === SHUTTER_KIND && <ShutterFacts piece={piece} catalogue={catalogue} setPiece={setPiece} />}
      <CheckTools check={check} spot={spot} hasWords={Boolean(words?.["remark"] || words?.["note"])} onWords={() => setOpen("words")} onLeaveOut={answering.leaveOut} />
      <div class="source" role="group" aria-label="Where the answer comes from">
        <button type="button" aria-pressed={!claimed} onClick={() => setClaimed(false)}>Seen by me</button>
        <button type="button" aria-pressed={claimed} onClick={() => setClaimed(true)}>Claimed</button>
      </div>
      <ClaimLines claims={view.claims} check={check} place={place} catalogue={catalogue} />
      <PlacePhotos photos={view.photos} spot={spot} />
      <Readings check={check} place={place} piece={piece} visit={spot.visit} readings={view.readings} catalogue={catalogue} />

      <AnswerSheets answering={answering} check={check} piece={piece} result={result} catalogue={catalogue} />
      {open === "words" && <WordsSheet spot={spot} remark={words?.["remark"] ?? ""} note={words?.["note"] ?? ""} onClose={() => setOpen(null)} />}
      {open === "list" && (
        <Sheet title="All checks" onClose={() => setOpen(null)}>
          <GroupList judged={judged} catalogue={catalogue} piece={piece} claims={view.claims} visit={spot.visit} open current={check.id} addressOf={addressOf}
            onPick={(event, id) => { setOpen(null); toCheck(event, id); }} />
        </Sheet>
      )}
    </Screen>
  );
}
