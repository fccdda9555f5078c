// How a seller dealt before: counts and one plain line, for the person's eyes only.

import { dayWords } from "./report_words.ts";

/** A dealing as plain data. */
export interface Dealing {
  readonly id?: string;
  readonly seller?: string;
  /** yyyy-mm-dd */
  readonly day?: string;
  readonly outcome?: "fair" | "mixed" | "unfair";
  readonly knew?: "did_not_know" | "hid_it" | "not_known";
  readonly deleted?: boolean;
}

export interface Past {
  readonly dealings: number;
  readonly fair: number;
  readonly mixed: number;
  readonly unfair: number;
  readonly did_not_know: number;
  readonly hid_it: number;
  readonly last_day: string | null;
  readonly line: string;
}

/** All that was noted about one seller. Ignorance and hiding are counted apart; neither is read out of the outcome. */
export function past(sellerId: string, dealings: readonly Dealing[]): Past {
  const own = dealings.filter((dealing) => dealing.seller === sellerId && !dealing.deleted);
  const ended = (outcome: Dealing["outcome"]) => own.filter((dealing) => dealing.outcome === outcome).length;
  const knew = (what: Dealing["knew"]) => own.filter((dealing) => dealing.knew === what).length;
  const days = own.flatMap(({ day }) => day ?? []).sort();
  const counts = {
    dealings: own.length,
    fair: ended("fair"),
    mixed: ended("mixed"),
    unfair: ended("unfair"),
    did_not_know: knew("did_not_know"),
    hid_it: knew("hid_it"),
    last_day: days.at(-1) ?? null,
  };
  return { ...counts, line: lineOf(counts) };
}

function lineOf(counts: Omit<Past, "line">): string {
  if (counts.dealings === 0) return "No dealings noted yet.";
  const ended = (["fair", "mixed", "unfair"] as const).filter((word) => counts[word] > 0).map((word) => `${counts[word]} ${word}`);
  const head = `${counts.dealings} ${counts.dealings === 1 ? "dealing" : "dealings"}${ended.length > 0 ? `: ${ended.join(", ")}` : ""}`;
  return [
    `${head}${counts.last_day ? `, last on ${dayWords(counts.last_day)}` : ""}.`,
    ...(counts.did_not_know > 0 ? [`Did not know of a fault ${times(counts.did_not_know)}.`] : []),
    ...(counts.hid_it > 0 ? [`Hid a fault ${times(counts.hid_it)}.`] : []),
  ].join(" ");
}

function times(n: number): string {
  return n === 1 ? "once" : n === 2 ? "twice" : `${n} times`;
}
