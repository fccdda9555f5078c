// Writes what a distant seller answered: one dated claim for each check it speaks of, all with the same words, typed once.
import type { Store } from "../../store/store.ts";

export interface AnswerGiven {
  piece: string;
  visit: string;
  words: string;
  evidence: string;
  day: string;
  /** Check -> what is claimed of it; a check that the answer says nothing of is not here. */
  said: Readonly<Record<string, string>>;
}

/** Gives the ids of the claims, in the order of `said`. */
export async function saveAnswer(store: Store, { piece, visit, words, evidence, day, said }: AnswerGiven): Promise<string[]> {
  const made: string[] = [];
  for (const [check, outcome] of Object.entries(said)) {
    made.push(await store.create("claim", { piece, visit, check, place: "", asserted: { outcome, faults: [] }, words: words.trim(), day, by: "seller", evidence }));
  }
  return made;
}

/** Takes claims off again. */
export async function takeBack(store: Store, claims: readonly string[]): Promise<void> {
  for (const id of claims) await store.remove("claim", id);
}
