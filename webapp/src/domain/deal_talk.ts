// Talking points to show the seller: what is wrong, what it does, what it costs to put right, what could not be tried. No offer is in it.

import type { Catalogue, Check, Effect, Fault } from "./catalogue.ts";
import { type Answer, applicable, type Piece } from "./checks.ts";
import { showMoney } from "./money.ts";
import { bundle, type CalledFor, type OwnCost } from "./remedies.ts";
import { notChecked } from "./report_not_checked.ts";
import type { ReportAnswer, ReportPiece } from "./report_records.ts";
import { placesWords } from "./report_words.ts";
import { fixed } from "./rounding.ts";
import { verdict } from "./verdict.ts";

const EFFECTS: readonly Effect[] = ["stops", "limits", "looks", "none"];
const NO_CURE = "No repair for this is known.";
const CLOSING = "This is what could be seen and tried today. A repairer may see it otherwise.";

export interface TalkPoint {
  readonly faults: readonly { readonly what: string; readonly where: string; readonly does: string }[];
  readonly cure: string;
  /** "" where no cure is known. */
  readonly cost: string;
  readonly time: string;
}

export interface DealTalk {
  /** One for each remedy, and one for each fault without a known cure; what stops a picture first. */
  readonly points: readonly TalkPoint[];
  readonly not_tried: readonly { readonly why: string; readonly list: readonly { readonly title: string; readonly where: string }[] }[];
  readonly closing: string;
}

type Found = CalledFor["faults"][number];
type Checks = ReadonlyMap<string, Check>;
type Shared = Pick<Catalogue, "checks" | "remedies" | "terms">;

/** It takes no deal: neither value nor ceiling nor offer can get into it. */
export function dealTalk(piece: Piece, answers: readonly Answer[], catalogue: Shared, ownCosts: readonly OwnCost[] = []): DealTalk {
  const here: Checks = new Map(applicable(piece, catalogue).map((check) => [check.id, check]));
  const kept = answers.filter((one) => here.has(one.check ?? "") && one.result && !one.deleted);
  const told = [
    ...bundle(kept, catalogue, ownCosts).map((repair) => ({ gravity: gravest(repair.faults, here), point: pointOf(repair.faults, here, catalogue, repair) })),
    ...uncured(kept, here).map((faults) => ({ gravity: gravest(faults, here), point: pointOf(faults, here, catalogue, null) })),
  ];
  const open = notChecked(piece as ReportPiece, kept as unknown as ReportAnswer[], verdict(piece, kept, catalogue), catalogue as Catalogue);
  return { points: told.sort((a, b) => a.gravity - b.gravity).map(({ point }) => point), not_tried: open.stopping?.reasons ?? [], closing: CLOSING };
}

/** The talking points as plain text for a message. */
export function talkText({ points, not_tried, closing }: DealTalk, title: string): string {
  return [
    title,
    "",
    ...(points.length > 0 ? ["What I found", ...points.flatMap(pointLines), ""] : []),
    ...(not_tried.length > 0 ? ["What could not be tried here", ...not_tried.flatMap(({ why, list }) => list.map((one) => `- ${named(one)} (${why.toLowerCase()})`)), ""] : []),
    closing,
  ].join("\n");
}

function pointLines({ faults, cure, cost, time }: TalkPoint): string[] {
  return [...faults.map(({ what, where, does }) => `- ${what}${where ? ` (${where})` : ""}: ${does}`), `  ${[cure, cost, time].filter((words) => words !== "").join(" ")}`];
}

function named({ title, where }: { title: string; where: string }): string {
  return title + (where ? `, ${where}` : "");
}

function faultOf(checks: Checks, { check, fault }: Pick<Found, "check" | "fault">): Fault {
  return checks.get(check)!.faults.find(({ id }) => id === fault)!;
}

function gravest(faults: readonly Found[], checks: Checks): number {
  return Math.min(...faults.map((one) => EFFECTS.indexOf(faultOf(checks, one).picture)));
}

/** Faults that no remedy is known for, one list for each kind of fault, with all its places. */
function uncured(answers: readonly Answer[], checks: Checks): Found[][] {
  const found = new Map<string, Found[]>();
  for (const { check = "", place = "", result } of answers) {
    if (result?.outcome !== "faulty") continue;
    for (const { id, remedy } of checks.get(check)!.faults) {
      if (remedy !== null || !result.faults?.includes(id)) continue;
      const key = `${check}\n${id}`;
      found.set(key, [...(found.get(key) ?? []), { check, place, fault: id }]);
    }
  }
  return [...found.values()];
}

function pointOf(faults: readonly Found[], checks: Checks, catalogue: Shared, repair: CalledFor | null): TalkPoint {
  const keyOf = ({ check, fault }: Found) => `${check}\n${fault}`;
  const kinds = faults.filter((one, at) => faults.findIndex((other) => keyOf(other) === keyOf(one)) === at);
  const told = kinds.map((kind) => {
    const { title, effect_words: does } = faultOf(checks, kind);
    return { what: title, where: placesWords(faults.filter((one) => keyOf(one) === keyOf(kind)).map(({ place }) => place), catalogue), does };
  });
  if (!repair) return { faults: told, cure: NO_CURE, cost: "", time: "" };
  return { faults: told, cure: `To put it right: ${repair.title}.`, cost: costWords(repair), time: weeksWords(repair.weeks) };
}

function costWords({ cost: { currency, low_minor, likely_minor, high_minor }, example }: CalledFor): string {
  const [low, likely, high] = [low_minor, likely_minor, high_minor].map((minor) => showMoney({ minor, currency }));
  const span = low === high ? `About ${likely}.` : `About ${likely}, between ${low} and ${high}.`;
  return example ? `${span} This figure is an example, not a quote.` : span;
}

function weeksWords(weeks: CalledFor["weeks"]): string {
  const [low, high] = [numberWords(weeks.low), numberWords(weeks.high)];
  if (high === "0") return "";
  return `It takes ${low === high ? `about ${high}` : `${low} to ${high}`} ${high === "1" ? "week" : "weeks"}.`;
}

/** "3", "2.5". */
function numberWords(weeks: number): string {
  return fixed(weeks, 1).replace(/\.0$/, "");
}
