// The line that is always there: what it is worth by the asking price, what could still kill it, and the next most useful look.

import type { Catalogue } from "./catalogue.ts";
import { type Answer, applicable, nextLook, type Piece, ranked } from "./checks.ts";
import { bundle, type OwnCost } from "./remedies.ts";
import { verdict, type VerdictWord } from "./verdict.ts";

/** Asking price less repairs, in the smallest unit; below zero where repairs cost more than is asked. */
export interface Worth {
  readonly kind: "asking_less_repairs";
  readonly low_minor: number;
  readonly likely_minor: number;
  readonly high_minor: number;
  readonly currency: string;
}

export interface BottomLine {
  readonly verdict: VerdictWord;
  readonly worth: Worth | null;
  /** Why there is no worth: no price asked, or repairs priced in another currency. */
  readonly missing: "asking" | "currency" | null;
  /** Checks that can stop a picture and are not judged yet, the most telling first. */
  readonly could_kill: { readonly check: string; readonly title: string }[];
  readonly next: { readonly check: string; readonly title: string; readonly seconds: number } | null;
}

export interface AskingVisit {
  readonly id?: string;
  readonly asking?: { readonly minor: number; readonly currency: string } | null;
}

export function bottomLine(piece: Piece, visit: AskingVisit, answers: readonly Answer[], catalogue: Pick<Catalogue, "checks" | "remedies">, ownCosts: readonly OwnCost[] = []): BottomLine {
  const checks = applicable(piece, catalogue);
  const judged = verdict(piece, answers, catalogue);
  const unlooked = new Set(judged.unlooked);
  const next = nextLook(piece, answers, catalogue);
  const here = new Set(checks.map(({ id }) => id));
  const repairs = bundle(answers.filter(({ check }) => check !== undefined && here.has(check)), catalogue, ownCosts).map(({ cost }) => cost);
  const missing = !visit.asking ? "asking" : repairs.some(({ currency }) => currency !== visit.asking!.currency) ? "currency" : null;
  const less = (figure: "low_minor" | "likely_minor" | "high_minor") => repairs.reduce((rest, cost) => rest - cost[figure], visit.asking?.minor ?? 0);
  return {
    verdict: judged.verdict,
    // The dearest repair leaves the lowest worth.
    worth: missing ? null : { kind: "asking_less_repairs", low_minor: less("high_minor"), likely_minor: less("likely_minor"), high_minor: less("low_minor"), currency: visit.asking!.currency },
    missing,
    could_kill: ranked(checks).filter(({ id }) => unlooked.has(id)).map(({ id, title }) => ({ check: id, title })),
    next: next && { check: next.id, title: next.title, seconds: next.seconds },
  };
}
