// Offers the answer that a measured speed suggests, by one tap with the way back; any other answer is a link away.
import type { Check } from "../../domain/catalogue.ts";
import { speedValue } from "../../domain/checks.ts";
import { placeText } from "../../domain/ids.ts";
import type { Mark, Row } from "../../domain/shutter_table.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { address } from "../../ui/route.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { saveResult } from "../check/save.ts";
import type { ResultAt } from "../visit/judge.ts";
import { outcomeSign } from "../visit/words.ts";
import { proposal } from "./proposal.ts";

export interface OfferAnswerProps { row: Row; goodUpTo: Mark | null; visit: string; check: Check; resultAt: ResultAt }

export function OfferAnswer({ row, goodUpTo, visit, check, resultAt }: OfferAnswerProps) {
  const store = useStore();
  const speed = speedValue(row.marked);
  if (speed === null) return null;
  const place = placeText({ speed });
  const given = resultAt(check.id, place);
  const offered = proposal(row, check.faults.map((fault) => fault.id), goodUpTo);
  const word = offered ? `${outcomeSign(offered.outcome).word.toLowerCase()}${offered.good_up_to ? `, good up to ${offered.good_up_to.text}` : ""}` : "";
  const answer = () => {
    if (!offered) return;
    saveResult(store, { visit, check: check.id, place }, offered).then(
      () => showToast({ words: `${row.marked.text}: ${word}`, undo: () => { store.undo().catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error, answer),
    );
  };
  return (
    <div class="row">
      {offered && !given && <Button onClick={answer}>Answer {row.marked.text}: {word}</Button>}
      <a class="small" href={address("/visit", visit, "/check", check.id, { place })}>{given ? `Answered: ${outcomeSign(given.outcome).word.toLowerCase()}` : offered ? "Answer otherwise" : `Answer the check for ${row.marked.text}`}</a>
    </div>
  );
}
