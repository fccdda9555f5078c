// What became of a claim once somebody looked: it held, did not hold, or was never tested; not to know claims nothing.

import type { Answer } from "./checks.ts";

export const SOUND = ["in_order", "worn"];
const ABSENT = "does_not_apply";
const NOTHING = ["cannot_tell", "not_checked"];

export const CLAIM_OUTCOMES = ["held", "did_not_hold", "never_tested", "nothing_claimed"] as const;
export type ClaimOutcome = (typeof CLAIM_OUTCOMES)[number];

/** A claim as plain data. */
export interface Claim {
  readonly id?: string;
  readonly piece?: string;
  readonly check?: string;
  readonly place?: string;
  /** yyyy-mm-dd */
  readonly day?: string;
  readonly asserted?: { readonly outcome: string } | null;
  readonly evidence?: string;
  readonly deleted?: boolean;
}

/** An answer that may say which piece it is about. */
export type SeenAnswer = Answer & { readonly piece?: string };

/**
 * `answers`: what was seen at any visit; of another piece or another place they say nothing. A claim of "worn" holds if the
 * thing is found in order, and the other way round: both say that it works.
 */
export function claimOutcome(claim: Claim, answers: readonly SeenAnswer[]): ClaimOutcome {
  const said = claim.asserted!.outcome;
  if (NOTHING.includes(said)) return "nothing_claimed";
  const seen = answers.filter((answer) => !answer.deleted && isAbout(claim, answer)).flatMap(({ result }) => result?.outcome ?? []);
  const [sound, faulty, absent] = [seen.some((outcome) => SOUND.includes(outcome)), seen.includes("faulty"), seen.includes(ABSENT)];
  const [held, broken] = said === ABSENT ? [absent, sound || faulty] : said === "faulty" ? [faulty, sound && !faulty] : [sound, faulty];
  return broken ? "did_not_hold" : held ? "held" : "never_tested";
}

/** How many claims ended each way; the same said twice counts once, claims taken off are left out. */
export function tally(claims: readonly Claim[], answers: readonly SeenAnswer[]): Record<ClaimOutcome, number> {
  const kept = claims.filter((claim) => claim.asserted && !claim.deleted);
  const made = new Map(kept.map((claim) => [[claim.piece, claim.check, claim.place, claim.asserted!.outcome].join("\n"), claim]));
  const ended = [...made.values()].map((claim) => claimOutcome(claim, answers));
  return Object.fromEntries(CLAIM_OUTCOMES.map((outcome) => [outcome, ended.filter((one) => one === outcome).length])) as Record<ClaimOutcome, number>;
}

function isAbout(claim: Claim, answer: SeenAnswer): boolean {
  const samePiece = !claim.piece || !answer.piece || claim.piece === answer.piece;
  return answer.check === claim.check && samePiece && (!claim.place || ["", claim.place].includes(answer.place ?? ""));
}
