// The verdict on a piece, derived from what was seen and never typed: first match wins, with its range and what drove it.

import { type Answer, applicable, holderNumbers, isLookedAt, type Piece, places, type Result, type SpeedMark, speedValue } from "./checks.ts";
import type { Catalogue, Check, Effect, Fault } from "./catalogue.ts";
import { parsePlace } from "./ids.ts";

export type VerdictWord = "parts_only" | "needs_work_first" | "not_proven" | "usable_with_faults" | "ready_to_use";

/** A fault answer; `effect` is the gravest of its faults. */
export interface Finding {
  readonly check: string;
  readonly place: string;
  readonly faults: string[];
  readonly effect: Effect;
}

/** Every holder of a set is judged for itself; those not counted in the last three are not proven. */
export interface HolderCount {
  readonly of: number;
  /** Judged: all that stops a picture was looked at, or a fault that does was found. */
  readonly looked: number;
  readonly ready: number;
  readonly with_faults: number;
  readonly needs_work: number;
}

export interface Verdict {
  readonly verdict: VerdictWord;
  /** Fastest marked speed the verdict holds for; null when it holds for all, or says nothing of use. */
  readonly range: { readonly up_to: SpeedMark | null };
  readonly drove: Finding[];
  /** Ids of checks that can stop a picture and were not looked at everywhere. */
  readonly unlooked: string[];
  readonly faults: { readonly stops: Finding[]; readonly limits: Finding[]; readonly looks: Finding[] };
  readonly holders: HolderCount | null;
  readonly left_out: { readonly check: string; readonly place: string; readonly reason: string }[];
}

/** One check as it stands: its places, what was said at each, and where it is still unjudged. */
interface Looked {
  readonly check: Check;
  readonly found: readonly Finding[];
  readonly open: readonly string[];
  /** A fault that stops a picture and that nothing known puts right. */
  readonly hopeless: boolean;
  readonly limit: SpeedMark | null;
}

const GRAVITY: readonly Effect[] = ["stops", "limits", "looks", "none"];

/**
 * The verdict on `piece` by the answers of one visit.
 *
 * Answers at places the piece no longer has (a holder taken out of the set) do not count; claims are no answers.
 */
export function verdict(piece: Piece, answers: readonly Answer[], catalogue: Pick<Catalogue, "checks">): Verdict {
  const leftOut: Verdict["left_out"] = [];
  const looks = applicable(piece, catalogue).flatMap((check) => {
    const said = saidAt(check, answers);
    for (const [place, result] of said) {
      if (result.outcome === "does_not_apply") leftOut.push({ check: check.id, place, reason: result.reason_text || result.reason || "" });
    }
    return look(check, piece, said);
  });
  const faults = byEffect(looks.flatMap(({ found }) => found));
  const unlooked = looks.filter(({ check, open }) => canStop(check) && open.length > 0).map(({ check }) => check.id);
  const word = firstMatch(piece, looks, faults, unlooked);
  const usable = word === "usable_with_faults" || word === "ready_to_use";
  return {
    verdict: word,
    range: { up_to: usable ? slowest(looks.map(({ limit }) => limit)) : null },
    drove: drivers(word, looks, faults),
    unlooked,
    faults,
    holders: piece.kind === "holders" ? countHolders(piece, looks) : null,
    left_out: leftOut,
  };
}

/** Whether one of the check's faults stops a picture. */
export function canStop(check: { readonly faults: readonly Pick<Fault, "picture">[] }): boolean {
  return check.faults.some((fault) => fault.picture === "stops");
}

function firstMatch(piece: Piece, looks: readonly Looked[], faults: Verdict["faults"], unlooked: readonly string[]): VerdictWord {
  if (piece.parts_only || looks.some(({ hopeless }) => hopeless)) return "parts_only";
  if (faults.stops.length > 0) return "needs_work_first";
  if (unlooked.length > 0 || looks.length === 0) return "not_proven";
  return faults.limits.length + faults.looks.length > 0 ? "usable_with_faults" : "ready_to_use";
}

/** The findings behind the word; the person's own "parts only" and what was not looked at stand elsewhere. */
function drivers(word: VerdictWord, looks: readonly Looked[], faults: Verdict["faults"]): Finding[] {
  if (word === "parts_only") return looks.filter(({ hopeless }) => hopeless).flatMap(({ found }) => found.filter(({ effect }) => effect === "stops"));
  if (word === "needs_work_first") return faults.stops;
  return word === "usable_with_faults" ? [...faults.limits, ...faults.looks] : [];
}

function saidAt(check: Check, answers: readonly Answer[]): Map<string, Result> {
  const said = new Map<string, Result>();
  for (const answer of answers) {
    if (answer.check === check.id && answer.result && !answer.deleted) said.set(answer.place ?? "", answer.result);
  }
  return said;
}

/** Nothing for a check that does not apply at all. */
function look(check: Check, piece: Piece, said: ReadonlyMap<string, Result>): Looked[] {
  const applies = (place: string) => said.get(place)?.outcome !== "does_not_apply";
  const own = places(check, piece);
  const here = own.filter(applies);
  if (!applies("") || here.length === 0) return [];
  // An answer for the whole piece stands beside those of its places: its fault counts, its "in order" does not cover them.
  const judged = [...new Set(["", ...here])].flatMap((place) => {
    const result = said.get(place);
    return result ? [{ place, result }] : [];
  });
  const faulty = judged.filter(({ result }) => result.outcome === "faulty").map(({ place, result }) => ({ place, named: namedFaults(check, result) }));
  const limit = slowest(judged.map(({ result }) => (result.outcome === "cannot_tell" && isLookedAt(result) ? result.good_up_to! : null)));
  const goodAsWhole = said.get("")?.outcome === "cannot_tell" && isLookedAt(said.get(""));
  return [{
    check,
    found: faulty.map(({ place, named }) => ({ check: check.id, place, faults: named.map(({ id }) => id), effect: gravest(named.length > 0 ? named : check.faults) })),
    open: here.filter((place) => !goodAsWhole && !isLookedAt(said.get(place)) && !isFaster(place, limit, piece)),
    hopeless: faulty.some(({ named }) => named.some((fault) => fault.picture === "stops" && fault.remedy === null)),
    limit,
  }];
}

function namedFaults(check: Check, result: Result): Fault[] {
  return check.faults.filter(({ id }) => result.faults?.includes(id));
}

function gravest(faults: readonly Pick<Fault, "picture">[]): Effect {
  return GRAVITY.find((effect) => faults.some(({ picture }) => picture === effect)) ?? "none";
}

/** Whether the place is a marked speed beyond the one the shutter is good up to. */
function isFaster(place: string, limit: SpeedMark | null, piece: Piece): boolean {
  const speed = parsePlace(place)["speed"];
  const mark = piece.speeds?.marks.find((one) => speedValue(one) === speed);
  return limit !== null && speed !== undefined && typeof mark?.seconds === "number" && mark.seconds < limit.seconds!;
}

/** The mark that narrows most: the longest time. */
function slowest(marks: readonly (SpeedMark | null)[]): SpeedMark | null {
  return marks.reduce((least, mark) => (mark && (!least || mark.seconds! > least.seconds!) ? mark : least), null);
}

function byEffect(findings: readonly Finding[]): Verdict["faults"] {
  const of = (effect: Effect) => findings.filter((finding) => finding.effect === effect);
  return { stops: of("stops"), limits: of("limits"), looks: of("looks") };
}

function countHolders(piece: Piece, looks: readonly Looked[]): HolderCount {
  const at = (place: string) => parsePlace(place)["holder"];
  const stopping = looks.filter(({ check }) => canStop(check));
  // What is looked at once for the whole set holds for every holder in it.
  const setProven = !stopping.some(({ check, found, open }) => !check.axes.includes("holder") && (open.length > 0 || found.some(({ effect }) => effect === "stops")));
  const setFaults = looks.some(({ found }) => found.some(({ place, effect }) => at(place) === undefined && effect !== "none"));
  const count = { of: 0, looked: 0, ready: 0, with_faults: 0, needs_work: 0 };
  for (const holder of holderNumbers(piece)) {
    const own = looks.flatMap(({ found }) => found).filter(({ place }) => at(place) === holder);
    const stops = own.some(({ effect }) => effect === "stops");
    const open = stopping.some((one) => one.open.some((place) => at(place) === holder));
    count.of += 1;
    if (stops || !open) count.looked += 1;
    if (stops) count.needs_work += 1;
    else if (open || !setProven) continue;
    else if (setFaults || own.some(({ effect }) => effect !== "none")) count.with_faults += 1;
    else count.ready += 1;
  }
  return count;
}
