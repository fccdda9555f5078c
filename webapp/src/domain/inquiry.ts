// What to ask a distant seller: a short list, what is worth most first; how each question stands once answers came.

import type { Catalogue, Question } from "./catalogue.ts";
import { type Answer, applicable, isLookedAt, type Piece } from "./checks.ts";
import { type Claim, SOUND } from "./claim_outcome.ts";
import { weightOf } from "./evidence_weight.ts";

const ASSERTING = [...SOUND, "faulty", "does_not_apply"];
// "3.", "3)", "３、": the number an answer is given under, also behind the marks of a quoted mail.
const NUMBERED = /^[>\s]*([0-9０-９]{1,2})\s*[.):\-–、．）：]\s*(.*)$/;
// "3 yes": without a mark only before words that are an answer and cannot be what is counted, as in "3 holes".
const PLAIN_ANSWER = new RegExp(
  "^\\s*([0-9０-９]{1,2})(?=\\s+(?:yes|yep|yeah|no|nope|none|ok|okay|sorry|don['’]?t know|ja|nein|weiß nicht|weiss nicht|keine Ahnung"
  + "|oui|non|je ne sais pas|sí|si)(?![\\p{L}\\p{N}_])|\\s*(?:はい|いいえ|わかりません|分かりません|不明))\\s*(.*)$", "iu");
const BARE = /^\s*([0-9０-９]{1,2})\s+(\S.*)$/;
// "1 dent, 2 scratches" may be counted things.
const LEAST_RUN = 3;
const QUOTED = /^\s*>/;

export interface AskRow { readonly question: string; readonly checks: readonly string[]; readonly worth_minor: number | null }
export type Standing = "waiting" | "does_not_know" | "no_proof" | "answered";

/** What was said about sending it back. */
export interface Returns { readonly allowed?: "yes" | "no" | "not_said"; readonly days?: number | null; readonly pays?: "seller" | "buyer" | "not_said" }

/**
 * Questions still worth asking about a piece, most first, else in the trade's order.
 *
 * `checking`: of a deal sheet. A question is worth at least what the dearest of its looks is worth; one about the terms of
 * sale at least the dearest of all, as who may send a thing back can look at everything. `worth_minor` is null where no
 * value is known. Questions whose checks were all looked at are left out.
 */
export function questionList(piece: Piece, answers: readonly Answer[], checking: readonly { readonly check: string; readonly worth_minor: number }[], catalogue: Pick<Catalogue, "checks">, questions: readonly Question[]): AskRow[] {
  const seen = new Set(answers.filter((answer) => !answer.deleted && isLookedAt(answer.result)).map(({ check }) => check));
  const worth = new Map(checking.map((row) => [row.check, row.worth_minor]));
  const here = applicable(piece, catalogue);
  return questions
    .filter(({ kinds }) => kinds.includes(piece.kind ?? ""))
    .flatMap((question) => {
      const checks = here.filter((check) => check.question_rank === question.rank && !seen.has(check.id)).map(({ id }) => id);
      const aboutSale = question.about === "sale";
      if (checks.length === 0 && !aboutSale) return [];
      const known = aboutSale ? [...worth.values()] : checks.map((check) => worth.get(check) ?? 0);
      return [{ rank: question.rank, row: { question: question.id, checks, worth_minor: worth.size > 0 ? Math.max(...known) : null } }];
    })
    .sort((a, b) => (b.row.worth_minor ?? 0) - (a.row.worth_minor ?? 0) || a.rank - b.rank)
    .map(({ row }) => row);
}

/**
 * How one question stands. `checks`: those the question answers; `returns`: what was said about sending it back.
 *
 * A good answer without the proof that the question asks for has no weight; that something is faulty is believed in any words.
 */
export function standing(question: Pick<Question, "about" | "proof">, checks: readonly string[], claims: readonly Claim[], returns: Returns | null, catalogue: Pick<Catalogue, "terms">): Standing {
  if (question.about === "sale") {
    const allowed = returns?.allowed;
    return !allowed ? "waiting" : allowed === "not_said" ? "does_not_know" : "answered";
  }
  const said = claims.filter((claim) => checks.includes(claim.check ?? "") && claim.asserted && !claim.deleted);
  const telling = said.filter((claim) => ASSERTING.includes(claim.asserted!.outcome));
  if (telling.length === 0) return said.length > 0 ? "does_not_know" : "waiting";
  const least = question.proof ? weightOf(question.proof, catalogue) : 0;
  const proven = telling.some((claim) => !SOUND.includes(claim.asserted!.outcome) || weightOf(claim.evidence, catalogue) >= least);
  return proven ? "answered" : "no_proof";
}

/** Ids of key questions without an answer that counts: priced as not working for each. */
export function openKeys(rows: readonly { readonly question: string; readonly key: boolean; readonly standing: Standing }[]): string[] {
  return rows.filter((row) => row.key && row.standing !== "answered").map(({ question }) => question);
}

/**
 * A pasted reply to `count` numbered questions, by number; null for what stands under none.
 *
 * A line that begins with a number opens that answer; lines after it belong to it. A number without a dot may be a figure of
 * the answer before: it opens only where such numbers count every question in order, or before yes, no and the like, onward in
 * order. What is quoted from the questions (">") is left out, but its number opens the answer below. A reply without numbers but
 * with as many lines as questions is taken in order.
 */
export function splitReply(text: string, count: number): { number: number | null; words: string }[] {
  const lines = text.split(/\r\n|\r|\n/);
  const found = new Map<number | null, string[]>();
  const isRun = count >= LEAST_RUN && openings(NUMBERED, lines, count).length === 0 && openings(BARE, lines, count).join() === Array.from({ length: count }, (_, at) => at + 1).join();
  const unmarked = isRun ? BARE : PLAIN_ANSWER;
  let number: number | null = null;
  for (const line of lines) {
    const opened: Opening | null = opening(NUMBERED, line, count) ?? opening(unmarked, line, count, number ?? 0);
    if (opened) number = opened.number;
    if (!QUOTED.test(line)) found.set(number, [...(found.get(number) ?? []), (opened ? opened.words : line).trim()]);
  }
  const spoken = lines.filter((line) => line.trim() !== "" && !QUOTED.test(line)).map((line) => line.trim());
  if ([...found.keys()].every((at) => at === null) && spoken.length === count) return spoken.map((words, at) => ({ number: at + 1, words }));
  return [...found]
    .sort(([a], [b]) => (a ?? 0) - (b ?? 0))
    .map(([at, words]) => ({ number: at, words: words.join("\n").trim() }))
    .filter(({ words }) => words !== "");
}

interface Opening { number: number; words: string }

function opening(pattern: RegExp, line: string, count: number, after = 0): Opening | null {
  const match = pattern.exec(line);
  const number = match ? Number(match[1]!.normalize("NFKC")) : 0;
  return match && number > after && number <= count ? { number, words: match[2]! } : null;
}

const openings = (pattern: RegExp, lines: readonly string[], count: number): number[] => lines.flatMap((line) => opening(pattern, line, count)?.number ?? []);
