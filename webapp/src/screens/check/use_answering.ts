// What happens after an outcome is tapped: ask what must be asked, save, say so with the way back, go on.
import { useState } from "preact/hooks";
import type { Check } from "../../domain/catalogue.ts";
import { useStore } from "../../store/live.ts";
import { here } from "../../ui/route.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import type { ResultAt } from "../visit/judge.ts";
import { today } from "../visit/today.ts";
import { outcomeSign, placeWords, type Outcome } from "../visit/words.ts";
import { afterTap, type Question } from "./ask.ts";
import type { ClaimWords } from "./claim_sheet.tsx";
import { saveClaim, saveResult, type Result } from "./save.ts";

export interface Answering {
  visit: string;
  piece: string;
  check: Check;
  place: string;
  /** Places the next answer goes to: the current one, or all that are still open. */
  targets: readonly string[];
  resultAt: ResultAt;
  claimed: boolean;
  onNext: (done: readonly string[]) => void;
  /** Back to this check at this place, after its answer was taken back. */
  onReturn: (place: string) => void;
}

/** Whether the person still stands at a check of this visit, so that taking back may lead there without pulling anybody from elsewhere. */
function isAtChecks(visit: string): boolean {
  const { path } = here.peek();
  return ["pass", "check"].some((part) => path.startsWith(`/visit/${visit}/${part}/`));
}

export function useAnswering({ visit, piece, check, place, targets, resultAt, claimed, onNext, onReturn }: Answering) {
  const store = useStore();
  const [question, setQuestion] = useState<Question | null>(null);

  const goBack = () => { if (isAtChecks(visit)) onReturn(place); };

  const settle = (result: Result) => {
    setQuestion(null);
    const before = targets.map((target) => ({ place: target, result: (resultAt(check.id, target) ?? null) as Result | null }));
    const put = (list: typeof before) => list.reduce<Promise<void>>(
      (done, one) => done.then(() => saveResult(store, { visit, check: check.id, place: one.place }, one.result)), Promise.resolve());
    const where = targets.length > 1 ? ` (${targets.length} places)` : place && `, ${placeWords(place)}`;
    // The next check comes at once; that this one is kept is said when it is on the disk.
    const save = (): Promise<void> => put(targets.map((target) => ({ place: target, result }))).then(
      () => showToast({
        words: `${check.title}${where}: ${outcomeSign(result.outcome).word.toLowerCase()}`,
        undo: () => { put(before).then(goBack, (error: unknown) => tellFailure(error)); },
      }),
      (error: unknown) => tellFailure(error, save),
    );
    void save();
    onNext(targets);
  };

  const choose = (outcome: Outcome) => {
    const next = afterTap(outcome, check, claimed);
    if ("ask" in next) setQuestion(next);
    else settle(next);
  };

  const claim = (outcome: Outcome, words: ClaimWords) => {
    setQuestion(null);
    const save = () => saveClaim(store, { visit, check: check.id, place }, piece, outcome, words, today()).then(
      (id) => showToast({ words: `Claim kept: ${check.title}`, undo: () => { store.remove("claim", id).then(goBack, (error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error, save),
    );
    void save();
    onNext([place]);
  };

  return { question, choose, settle, claim, leaveOut: () => setQuestion({ ask: "leave_out" }), close: () => setQuestion(null) };
}
