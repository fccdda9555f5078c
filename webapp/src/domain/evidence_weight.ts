// How much the claims about one check weigh: words less than a photo, a photo less than a film with sound, and so on to what was seen.

import type { Catalogue } from "./catalogue.ts";
import type { Claim } from "./claim_outcome.ts";

type Terms = Pick<Catalogue, "terms">;

export interface Weighed {
  readonly outcome: string;
  readonly evidence: string;
  readonly weight: number;
  /** Whether no other claim says otherwise of whether it works. */
  readonly agree: boolean;
  readonly say: string;
}

/** 1 for words up to 5 for seen; evidence of an unknown kind weighs as words. */
export function weightOf(evidence: string | undefined, catalogue: Terms): number {
  return catalogue.terms.evidence_kinds.find(({ id }) => id === evidence)?.weight ?? 1;
}

/** Of the claims about one check the one with the weightiest evidence, the latest of equals; null where nothing was claimed. */
export function weigh(claims: readonly Claim[], catalogue: Terms): Weighed | null {
  const made = claims.filter((claim) => claim.asserted && !claim.deleted);
  const key = (claim: Claim) => [weightOf(claim.evidence, catalogue), claim.day ?? "", claim.id ?? ""] as const;
  const after = (a: Claim, b: Claim) => {
    const [left, right] = [key(a), key(b)];
    const at = left.findIndex((one, index) => one !== right[index]);
    return at >= 0 && left[at]! > right[at]!;
  };
  const [first, ...rest] = made;
  if (!first) return null;
  const best = rest.reduce((found, claim) => (after(claim, found) ? claim : found), first);
  const works = new Set(made.map((claim) => claim.asserted!.outcome).filter((one) => ["in_order", "worn", "faulty"].includes(one)).map((one) => one !== "faulty"));
  const kinds = catalogue.terms.evidence_kinds;
  const kind = kinds.find(({ id }) => id === best.evidence) ?? kinds[0]!;
  return { outcome: best.asserted!.outcome, evidence: kind.id, weight: weightOf(best.evidence, catalogue), agree: works.size < 2, say: kind.say };
}
