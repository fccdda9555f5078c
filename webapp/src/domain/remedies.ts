// What the faults seen call for: each remedy once, a smaller one not at all when a larger one does its work too.

import type { Catalogue, CostSpan, Remedy } from "./catalogue.ts";
import type { Answer } from "./checks.ts";
import { parsePlace } from "./ids.ts";

/** The person's own figure for a remedy (a remedy_cost record). */
export interface OwnCost {
  readonly id?: string;
  readonly remedy?: string;
  readonly cost?: CostSpan;
  readonly weeks?: { readonly low: number; readonly high: number };
  readonly deleted?: boolean;
}

export interface CalledFor {
  readonly remedy: string;
  readonly title: string;
  readonly who: string;
  readonly weeks: { readonly low: number; readonly high: number };
  /** For all `times` together. */
  readonly cost: CostSpan;
  readonly example: boolean;
  /** Holders or parts it is charged for; 1 where it is charged by the piece. */
  readonly times: number;
  readonly faults: { readonly check: string; readonly place: string; readonly fault: string }[];
}

interface Call {
  readonly remedy: Remedy;
  readonly check: string;
  readonly place: string;
  readonly fault: string;
}

/** The remedies that the faulty answers call for, in the order of the catalogue, at the person's own costs where there are some. */
export function bundle(answers: readonly Answer[], catalogue: Pick<Catalogue, "checks" | "remedies">, ownCosts: readonly OwnCost[] = []): CalledFor[] {
  const calls = callsOf(answers, catalogue);
  const settled = calls.map((call) => ({ ...call, remedy: coveredBy(call, calls) ?? call.remedy }));
  return catalogue.remedies.flatMap((remedy) => {
    const own = settled.filter((call) => call.remedy.id === remedy.id);
    if (own.length === 0) return [];
    const times = new Set(own.map((call) => unitOf(remedy, call.place))).size;
    const figure = ownCosts.find((one) => one.remedy === remedy.id && one.cost && !one.deleted);
    return [{
      remedy: remedy.id,
      title: remedy.title,
      who: remedy.who,
      weeks: figure?.weeks ?? remedy.weeks,
      cost: multiplied(figure?.cost ?? remedy.cost, times),
      example: figure ? false : remedy.example,
      times,
      faults: own.map(({ check, place, fault }) => ({ check, place, fault })),
    }];
  });
}

function callsOf(answers: readonly Answer[], catalogue: Pick<Catalogue, "checks" | "remedies">): Call[] {
  const checks = new Map(catalogue.checks.map((check) => [check.id, check]));
  const remedies = new Map(catalogue.remedies.map((remedy) => [remedy.id, remedy]));
  return answers.flatMap(({ check = "", place = "", result, deleted }) => {
    if (deleted || result?.outcome !== "faulty") return [];
    return (checks.get(check)?.faults ?? []).flatMap((fault) => {
      const remedy = result.faults?.includes(fault.id) && fault.remedy !== null ? remedies.get(fault.remedy) : undefined;
      return remedy ? [{ remedy, check, place, fault: fault.id }] : [];
    });
  });
}

/** The larger remedy, called for at the same holder or for the whole piece, that does this one's work too. */
function coveredBy(call: Call, calls: readonly Call[]): Remedy | undefined {
  const larger = calls.filter(({ remedy, place }) => remedy.covers.includes(call.remedy.id) && (remedy.charged_per === "piece" || holderOf(place) === holderOf(call.place)));
  return larger.find(({ remedy }) => !larger.some((other) => other.remedy.covers.includes(remedy.id)))?.remedy;
}

/** What one charge is for: the piece, a holder, or the one place. */
function unitOf(remedy: Remedy, place: string): string {
  if (remedy.charged_per === "piece") return "";
  return remedy.charged_per === "holder" ? holderOf(place) : place;
}

function holderOf(place: string): string {
  return parsePlace(place)["holder"] ?? "";
}

function multiplied({ currency, low_minor, likely_minor, high_minor }: CostSpan, times: number): CostSpan {
  return { currency, low_minor: low_minor * times, likely_minor: likely_minor * times, high_minor: high_minor * times };
}
