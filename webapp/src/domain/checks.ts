// Which checks a piece calls for, where each is looked at, and in which order the minutes are best spent.

import type { Axis, Catalogue, Check } from "./catalogue.ts";
import { placeText } from "./ids.ts";

export interface SpeedMark {
  readonly text: string;
  /** Null for B, T and what is no time. */
  readonly seconds: number | null;
}

/** A piece as plain data; a field that nobody has filled in yet is missing. */
export interface Piece {
  readonly id?: string;
  readonly kind?: string;
  readonly type?: string | null;
  readonly shutter_kind?: string | null;
  readonly format?: string | null;
  readonly holders?: { readonly count: number; readonly numbers?: readonly string[] } | null;
  readonly speeds?: { readonly marks: readonly SpeedMark[] } | null;
  readonly parts_only?: { readonly reason: string } | null;
}

export interface Result {
  readonly outcome: string;
  readonly faults?: readonly string[];
  readonly good_up_to?: SpeedMark | null;
  readonly reason?: string | null;
  readonly reason_text?: string;
}

/** What was seen at one check at one place. */
export interface Answer {
  readonly id?: string;
  readonly check?: string;
  readonly place?: string;
  /** Null is an answer taken back. */
  readonly result?: Result | null;
  readonly deleted?: boolean;
}

export type Pass = "short" | "full";

export const SHORT_PASS_S = 300;

// How often a fault is met and how dear it is, as figures for the order (trade notes 3: judgement, no source).
export const CHANCE = { rare: 0.05, sometimes: 0.2, often: 0.5 };
const COST = { low: 1, medium: 3, high: 10 };

const CORNERS = ["top_left", "top_right", "bottom_left", "bottom_right"];
const FIXED: Partial<Record<Axis, readonly string[]>> = {
  side: ["a", "b"],
  extension: ["short", "middle", "full"],
  corner: CORNERS,
  point: ["middle", ...CORNERS],
};
const PLACE_VALUE = /^[a-z0-9_./]+$/;

/**
 * The checks a piece calls for, in the order of the catalogue.
 *
 * A type nobody has named yet calls for the checks of every type: what may be there must be looked at or left out with a
 * reason. A check for some kinds of shutter waits until the kind is known.
 */
export function applicable(piece: Piece, catalogue: Pick<Catalogue, "checks">): Check[] {
  const { kind, type, shutter_kind: shutter } = piece;
  return catalogue.checks.filter((check) => {
    if (!kind || !check.kinds.includes(kind)) return false;
    if (type && check.types && !check.types.includes(type)) return false;
    return !check.shutter_kinds || (!!shutter && check.shutter_kinds.includes(shutter));
  });
}

/**
 * Every place a check is looked at, as canonical place text: sides of holders, lengths, marked speeds; [""] is the whole piece.
 *
 * An axis whose values nobody knows yet (a shutter without its list of speeds) falls away.
 */
export function places(check: { readonly id?: string; readonly axes?: readonly string[] }, piece: Piece): string[] {
  let all: Record<string, string>[] = [{}];
  for (const axis of check.axes ?? []) {
    const values = valuesOf(axis, piece);
    if (values.length > 0) all = all.flatMap((axes) => values.map((value) => ({ ...axes, [axis]: value })));
  }
  return all.map(placeText);
}

/** The holders of a set as places name them: as they are numbered, where every number can stand in a place, else 1, 2, 3. */
export function holderNumbers(piece: Piece): string[] {
  const count = piece.holders?.count ?? 1;
  const own = (piece.holders?.numbers ?? []).slice(0, count).map((number) => number.trim().toLowerCase());
  const usable = own.length === count && new Set(own).size === count && own.every((number) => PLACE_VALUE.test(number));
  return usable ? own : Array.from({ length: count }, (_, index) => String(index + 1));
}

/** A marked speed as places name it: "1/50"; null for B, T and what cannot stand in a place. */
export function speedValue(mark: SpeedMark): string | null {
  const value = mark.text.toLowerCase().replaceAll(" ", "").replaceAll(",", ".");
  return mark.seconds !== null && PLACE_VALUE.test(value) ? value : null;
}

/** The order worth taking within the budget, in seconds: what comes before any score, then chance times cost by second. */
export function shortPass(checks: readonly Check[], budgetS = SHORT_PASS_S): Check[] {
  let left = budgetS;
  return ranked(checks).filter((check) => {
    if (check.seconds > left) return false;
    left -= check.seconds;
    return true;
  });
}

/** The short pass, then all the rest in the order of the catalogue, which follows the hands over the piece. */
export function fullPass(checks: readonly Check[]): Check[] {
  const short = shortPass(checks);
  return [...short, ...checks.filter((check) => !short.includes(check))];
}

/** How far a pass is: checks answered at all their places, of how many, and about how many seconds are left. */
export function progress(piece: Piece, answers: readonly Answer[], catalogue: Pick<Catalogue, "checks">, pass: Pass): { done: number; of: number; left_s: number } {
  const checks = applicable(piece, catalogue);
  const order = pass === "short" ? shortPass(checks) : fullPass(checks);
  const answered = answeredPlaces(answers);
  let done = 0;
  let leftS = 0;
  for (const check of order) {
    const all = places(check, piece);
    const open = all.filter((place) => !answered.has(spot(check.id, place))).length;
    const holders = check.axes.includes("holder") ? holderNumbers(piece).length : 1;
    if (open === 0) done += 1;
    leftS += (check.seconds * holders * open) / all.length;
  }
  return { done, of: order.length, left_s: Math.ceil(leftS) };
}

/** The most useful check that still has a place without an answer; null when all are answered. */
export function nextLook(piece: Piece, answers: readonly Answer[], catalogue: Pick<Catalogue, "checks">): Check | null {
  const answered = answeredPlaces(answers);
  const open = (check: Check) => places(check, piece).some((place) => !answered.has(spot(check.id, place)));
  return ranked(applicable(piece, catalogue)).find(open) ?? null;
}

/** Whether this outcome judged the thing. "Cannot tell" did only if it says up to which speed it is good. */
export function isLookedAt(result: Result | null | undefined): boolean {
  if (!result) return false;
  if (result.outcome === "cannot_tell") return typeof result.good_up_to?.seconds === "number";
  return ["in_order", "worn", "faulty"].includes(result.outcome);
}

/** Checks by rank before any score, then by score; equal ones stay in the order of the catalogue. */
export function ranked(checks: readonly Check[]): Check[] {
  const score = (check: Check) => (CHANCE[check.chance] * COST[check.cost]) / check.seconds;
  const rank = (check: Check) => check.first ?? Infinity;
  return [...checks].sort((a, b) => (rank(a) === rank(b) ? score(b) - score(a) : rank(a) - rank(b)));
}

function valuesOf(axis: string, piece: Piece): readonly string[] {
  if (axis === "holder") return holderNumbers(piece);
  if (axis === "speed") return [...new Set((piece.speeds?.marks ?? []).flatMap((mark) => speedValue(mark) ?? []))];
  return FIXED[axis as Axis] ?? [];
}

function answeredPlaces(answers: readonly Answer[]): Set<string> {
  return new Set(answers.filter((answer) => answer.result && !answer.deleted).map((answer) => spot(answer.check, answer.place)));
}

function spot(check: string | undefined, place: string | undefined): string {
  return `${check}\n${place}`;
}
