// What a report must say as loudly as its verdict: every look that was not taken, and why.

import type { Catalogue, Check } from "./catalogue.ts";
import { applicable, isLookedAt, places, type Result } from "./checks.ts";
import { parsePlace } from "./ids.ts";
import type { ReportAnswer, ReportPiece } from "./report_records.ts";
import { counted, distinct, placesWords, titleOf } from "./report_words.ts";
import type { Verdict } from "./verdict.ts";

interface Entry {
  readonly title: string;
  readonly where: string;
  readonly why: string;
}

type Shared = Pick<Catalogue, "checks" | "terms">;

const MOST_PLACES = 4;
export const UNTOUCHED = "not looked at";

/** Checks not looked at somewhere, apart those that a picture hangs on; what was left out stands with its reason. */
export function notChecked(piece: ReportPiece, answers: readonly ReportAnswer[], judged: Pick<Verdict, "unlooked" | "left_out">, catalogue: Shared) {
  const checks = applicable(piece, catalogue);
  const open = checks.flatMap((check) => {
    const entry = entryOf(check, piece, answers, catalogue);
    return entry ? [{ entry, stops: judged.unlooked.includes(check.id) }] : [];
  });
  const [stopping, others] = [true, false].map((wanted) => open.filter(({ stops }) => stops === wanted).map(({ entry }) => entry)) as [Entry[], Entry[]];
  const leftOut = judged.left_out.map((one): Entry => ({
    title: checks.find(({ id }) => id === one.check)!.title,
    where: placesWords([one.place], catalogue),
    why: one.reason || "no reason given",
  }));
  return {
    count: open.length,
    of: checks.length - new Set(leftOut.filter(({ where }) => where === "").map(({ title }) => title)).size,
    stopping: byReason(stopping),
    others: byReason(others),
    left_out: byReason(leftOut),
    elsewhere: elsewhere(others.length, leftOut.length, stopping.length > 0),
    nothing: open.length === 0,
  };
}

/** What the panel beside the verdict says of the looks that are listed further down; `named`: it names some by itself. */
function elsewhere(others: number, leftOut: number, named: boolean): string {
  const looks = named ? counted(others, "other look", "other looks") : counted(others, "look", "looks");
  const said = [others > 0 ? `${looks} not taken` : "", leftOut > 0 ? `${leftOut} left out with a reason` : ""];
  return said.filter((words) => words !== "").join(", ");
}

/** The same reason is said once, above all it holds for. */
function byReason(entries: readonly Entry[]) {
  const reasons = distinct(entries.map(({ why }) => why)).map((why) => ({
    why: why[0]!.toUpperCase() + why.slice(1),
    list: entries.filter((one) => one.why === why).map(({ title, where }) => ({ title, where })),
  }));
  return reasons.length > 0 ? { reasons } : null;
}

function entryOf(check: Check, piece: ReportPiece, answers: readonly ReportAnswer[], catalogue: Shared): Entry | null {
  const said = new Map(answers.flatMap((answer) => (answer.check === check.id && answer.result ? [[answer.place ?? "", answer.result] as const] : [])));
  const whole = said.get("");
  if (doesNotApply(whole)) return null;
  const here = places(check, piece).filter((place) => !doesNotApply(said.get(place)));
  // "Good up to" said of the whole piece judges all its places.
  const covered = whole?.outcome === "cannot_tell" && isLookedAt(whole);
  const missing = here.filter((place) => !covered && !isLookedAt(said.get(place)));
  if (missing.length === 0) return null;
  const reasons = distinct(missing.map((place) => why(said.get(place) ?? whole, catalogue)));
  const partly = missing.length < here.length;
  return { title: check.title, where: partly ? where(missing, places(check, piece).length, catalogue) : "", why: reasons.join("; ") };
}

function doesNotApply(result: Result | undefined): boolean {
  return result?.outcome === "does_not_apply";
}

function why(result: Result | undefined, catalogue: Shared): string {
  const text = result?.reason_text ?? "";
  if (result?.outcome === "cannot_tell") return `looked at, could not be judged this way${text ? ` (${text})` : ""}`;
  if (result?.outcome !== "not_checked") return UNTOUCHED;
  const title = !result.reason || result.reason === "other" ? "" : titleOf(catalogue.terms.not_checked_reasons, result.reason).toLowerCase();
  return [title, text].filter((words) => words !== "").join(": ") || UNTOUCHED;
}

function where(missing: readonly string[], of: number, catalogue: Shared): string {
  if (missing.length > MOST_PLACES && !("holder" in parsePlace(missing[0]!))) return `${missing.length} of ${counted(of, "place", "places")}`;
  return placesWords(missing, catalogue);
}
