// What an outcome still needs to know before it is an answer: as little as can be, because one hand is busy.
import type { Check } from "../../domain/catalogue.ts";
import type { Outcome } from "../visit/words.ts";
import type { Result } from "./save.ts";

export type Question = { ask: "faults" | "reason" | "up_to" | "leave_out" } | { ask: "claim"; outcome: Outcome };

/** A question to put first, or the result to keep at once. */
export function afterTap(outcome: Outcome, check: Pick<Check, "faults" | "good_up_to">, claimed: boolean): Question | Result {
  if (claimed) return { ask: "claim", outcome };
  if (outcome === "faulty") return check.faults.length > 1 ? { ask: "faults" } : { outcome, faults: check.faults.map((fault) => fault.id) };
  if (outcome === "cannot_tell" && check.good_up_to) return { ask: "up_to" };
  if (outcome === "not_checked") return { ask: "reason" };
  return { outcome };
}
