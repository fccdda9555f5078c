// What the domain makes of a visit: checks that apply, verdict, bottom line and progress, computed once a change.
import type { Catalogue, Check } from "../../domain/catalogue.ts";
import { bottomLine } from "../../domain/bottom_line.ts";
import type { OwnCost } from "../../domain/remedies.ts";
import { applicable, places, progress, type Result } from "../../domain/checks.ts";
import { verdict } from "../../domain/verdict.ts";
import { plain, type Plain, type VisitView } from "./view.ts";

export function judge(view: VisitView, catalogue: Catalogue) {
  const piece = plain(view.piece);
  const answers = view.answers.map(plain);
  const byPlace = new Map(answers.map((answer) => [spotKey(answer["check"], answer["place"]), answer]));
  /** The record at one place, be it an outcome or only words. */
  const recordAt = (check: string, place: string): Plain | undefined => byPlace.get(spotKey(check, place));
  return {
    checks: applicable(piece, catalogue),
    recordAt,
    /** The result at one place; undefined while it is still to look at. */
    resultAt: (check: string, place: string): Result | undefined => recordAt(check, place)?.["result"] ?? undefined,
    verdict: verdict(piece, answers, catalogue),
    line: bottomLine(piece, plain(view.visit), answers, catalogue, view.costs.map(plain) as unknown as OwnCost[]),
    short: progress(piece, answers, catalogue, "short"),
    full: progress(piece, answers, catalogue, "full"),
  };
}

export type Judged = ReturnType<typeof judge>;

export type ResultAt = Judged["resultAt"];

const spotKey = (check: string, place: string): string => `${check}\n${place}`;

const GRAVITY = ["faulty", "cannot_tell", "worn", "in_order", "not_checked", "does_not_apply"];

export interface CheckState { outcome: string | undefined; done: number; of: number }

/** One sign for a check over all its places: the gravest outcome found, and how many places were answered. */
export function checkState(check: Check, piece: Plain, resultAt: ResultAt): CheckState {
  const all = places(check, piece);
  const found = all.map((place) => resultAt(check.id, place)?.outcome).filter((one) => one !== undefined);
  const outcome = GRAVITY.find((one) => found.includes(one));
  return { outcome, done: found.length, of: all.length };
}
