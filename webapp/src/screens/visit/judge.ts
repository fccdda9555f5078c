// What the domain makes of a visit: checks that apply, verdict, bottom line and progress, computed once a change.
import type { Catalogue, Check } from "../../domain/catalogue.ts";
import { bottomLine } from "../../domain/bottom_line.ts";
import type { OwnCost } from "../../domain/remedies.ts";
import { applicable, places, progress } from "../../domain/checks.ts";
import { verdict } from "../../domain/verdict.ts";
import { plain, type Plain, type VisitView } from "./view.ts";

export function judge(view: VisitView, catalogue: Catalogue) {
  const piece = plain(view.piece);
  const answers = view.answers.map(plain);
  const checks = applicable(piece, catalogue);
  return {
    checks,
    answers,
    verdict: verdict(piece, answers, catalogue),
    line: bottomLine(piece, plain(view.visit), answers, catalogue, view.costs.map(plain) as unknown as OwnCost[]),
    short: progress(piece, answers, catalogue, "short"),
    full: progress(piece, answers, catalogue, "full"),
  };
}

export type Judged = ReturnType<typeof judge>;

/** The answer at one place, if there is one with a result. */
export function answerAt(answers: readonly Plain[], check: string, place: string): Plain | undefined {
  return answers.find((answer) => answer["check"] === check && answer["place"] === place && answer["result"]);
}

const GRAVITY = ["faulty", "cannot_tell", "worn", "in_order", "not_checked", "does_not_apply"];

export interface CheckState { outcome: string | undefined; done: number; of: number }

/** One sign for a check over all its places: the gravest outcome found, and how many places were answered. */
export function checkState(check: Check, piece: Plain, answers: readonly Plain[]): CheckState {
  const all = places(check, piece);
  const found = all.map((place) => answerAt(answers, check.id, place)?.["result"].outcome as string | undefined).filter((one) => one !== undefined);
  const outcome = GRAVITY.find((one) => found.includes(one));
  return { outcome, done: found.length, of: all.length };
}
