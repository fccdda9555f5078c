// Does it fit: a piece against the person's own kit, or the pieces of a lot against each other, with what is missing to know.

import type { Facts, Thing } from "./kit_facts.ts";
import { answer, board, covers, film, type Fit, type FitAnswer, focuses, hole, infinity, passes, seats, type Shared } from "./kit_rules.ts";
import type { LengthUnit } from "./lengths.ts";

export interface Fitted {
  readonly verdict: Fit;
  readonly answers: readonly FitAnswer[];
}

interface Rule {
  readonly about: string;
  /** Facts of the first and of the second thing; with "|" one of several will do. */
  readonly first: readonly string[];
  readonly second: readonly string[];
  /** Whether "fits" cannot be said without it. */
  readonly must: boolean;
  readonly judge: (first: Facts, second: Facts, catalogue: Shared, unit: LengthUnit) => FitAnswer;
}

const BOARD = ["board_width_mm", "board_height_mm"];
const RULES: Readonly<Record<string, readonly Rule[]>> = {
  "camera lens": [
    { about: "covers", first: ["format"], second: ["circle_mm"], must: true, judge: covers },
    { about: "infinity", first: ["shortest_mm", "longest_mm"], second: ["focal_mm"], must: true, judge: infinity },
    { about: "board", first: BOARD, second: ["shutter_size|thread_mm|board_width_mm"], must: true, judge: board },
    { about: "passes", first: ["front_opening_mm"], second: ["rear_width_mm"], must: false, judge: (one, other, _, unit) => passes(one, other, unit) },
  ],
  "camera holders": [
    { about: "film", first: ["format"], second: ["film_size"], must: true, judge: film },
    { about: "seats", first: ["holder_form"], second: ["form"], must: false, judge: seats },
    { about: "focuses", first: ["format", "glass_depth_mm"], second: ["depth_mm"], must: false, judge: focuses },
  ],
  "camera other": [{ about: "board", first: BOARD, second: BOARD, must: true, judge: board }],
  "lens other": [{ about: "hole", first: ["shutter_size|thread_mm"], second: ["hole_mm"], must: true, judge: hole }],
};
const WORDS: Readonly<Record<string, string>> = { camera: "camera", lens: "lens", holders: "holders", other: "board" };

/** How two things go together, in any order; null for two kinds that have nothing to fit. */
export function fit(one: Thing, other: Thing, catalogue: Shared, unit: LengthUnit): Fitted | null {
  const [first, second] = `${one.kind} ${other.kind}` in RULES ? [one, other] : [other, one];
  const rules = RULES[`${first.kind} ${second.kind}`];
  if (!rules) return null;
  const answers = rules.map((rule) => asked(rule, first, second, catalogue, unit));
  return { verdict: together(answers, rules), answers };
}

/** A piece against every thing of a kit it could go with. */
export function fitWithKit(piece: Thing, kit: readonly (Thing & { readonly id: string })[], catalogue: Shared, unit: LengthUnit): (Fitted & { with: string })[] {
  return kit.flatMap((mine) => {
    const found = fit(piece, mine, catalogue, unit);
    return found ? [{ with: mine.id, ...found }] : [];
  });
}

/** The pieces of a lot against each other: every pair that can go together. */
export function fitInLot(pieces: readonly (Thing & { readonly id: string })[], catalogue: Shared, unit: LengthUnit): (Fitted & { a: string; b: string })[] {
  return pieces.flatMap((one, index) => pieces.slice(index + 1).flatMap((other) => {
    const found = fit(one, other, catalogue, unit);
    return found ? [{ a: one.id, b: other.id, ...found }] : [];
  }));
}

function asked({ about, first, second, judge }: Rule, one: Thing, other: Thing, catalogue: Shared, unit: LengthUnit): FitAnswer {
  const missing = [...missingOf(one, first, catalogue), ...missingOf(other, second, catalogue)];
  if (missing.length === 0) return judge(one.facts, other.facts, catalogue, unit);
  const lacking = [...new Set(missing.map(({ of, title }) => `${title.toLowerCase()} of the ${WORDS[of]}`))].join(", ");
  return { ...answer(about, "not_known", `Still to measure or ask: ${lacking}.`), missing };
}

function missingOf({ kind, facts }: Thing, wanted: readonly string[], { measures }: Shared): FitAnswer["missing"] {
  const known = (name: string) => facts[name] !== null && facts[name] !== undefined;
  return wanted.map((names) => names.split("|")).filter((names) => !names.some(known))
    .map(([fact = ""]) => ({ of: kind, fact, title: measures.find((one) => one.id === fact)!.title }));
}

function together(answers: readonly FitAnswer[], rules: readonly Rule[]): Fit {
  if (answers.some(({ verdict }) => verdict === "does_not_fit")) return "does_not_fit";
  if (answers.some(({ verdict }, index) => verdict === "not_known" && rules[index]!.must)) return "not_known";
  return answers.every(({ verdict }) => verdict === "fits") ? "fits" : "fits_if";
}
