// All that happened with one seller as a story in time: meetings, dealings, what became of their claims, what was bought.

import type { Catalogue } from "./catalogue.ts";
import { type Claim, claimOutcome, type ClaimOutcome, type SeenAnswer, tally } from "./claim_outcome.ts";
import { wilson } from "./intervals.ts";
import { counted, distinct, titleOf } from "./report_words.ts";
import type { Dealing } from "./sellers.ts";

type Terms = Pick<Catalogue, "terms" | "checks">;
type Kept = { readonly id: string; readonly day?: string; readonly deleted?: boolean };
export type Met = Kept & { readonly title?: string };
export type Dealt = Dealing & Kept & { readonly facets?: Readonly<Record<string, string>> };
export type Decided = Kept & { readonly decision?: { readonly bought: boolean; readonly reason?: string } };
export type Claimed = Claim & { readonly id: string; readonly piece: string; readonly check: string };
export type Counts = Readonly<Record<ClaimOutcome, number>>;

export interface StoryEvent {
  readonly day: string;
  readonly kind: "session" | "dealing" | "deal" | "claims";
  /** The record it is about, for a way there; of claims the piece. */
  readonly record: string;
  readonly tone: "good" | "worn" | "bad" | "none";
  readonly say: string;
  readonly more: string;
}

export interface SellerStory {
  readonly events: readonly StoryEvent[];
  readonly claims: Counts;
  /** The share of tested claims that held, 95 % (Wilson); null while none was tested. */
  readonly held: { readonly share: number; readonly low: number; readonly high: number } | null;
}

const TONES: Readonly<Record<string, StoryEvent["tone"]>> = { fair: "good", mixed: "worn", unfair: "bad" };
const KNEW: Readonly<Record<string, string>> = { did_not_know: "did not know", hid_it: "hid it" };
const ORDER = { dealing: 0, claims: 1, deal: 2, session: 3 };

/** Newest first. `claims`: those this seller made, `answers`: what was seen of those pieces, each with its piece. */
export function sellerStory(sessions: readonly Met[], dealings: readonly Dealt[], deals: readonly Decided[], claims: readonly Claimed[], answers: readonly SeenAnswer[], catalogue: Terms): SellerStory {
  const events: StoryEvent[] = [
    ...kept(sessions).map((one) => ({ day: one.day || "", kind: "session" as const, record: one.id, tone: "none" as const, say: one.title || "A sale", more: "" })),
    ...kept(dealings).map((one) => dealingEvent(one, catalogue)),
    ...kept(deals).flatMap((one) => (one.decision ? [{ day: one.day || "", kind: "deal" as const, record: one.id, tone: "none" as const, say: one.decision.bought ? "Bought from them" : "Passed", more: one.decision.reason || "" }] : [])),
    ...claimedEvents(claims, answers, catalogue),
  ];
  const counts = tally(claims, answers);
  const tested = counts.held + counts.did_not_hold;
  const text = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
  events.sort((a, b) => text(b.day, a.day) || ORDER[a.kind] - ORDER[b.kind] || text(a.record, b.record));
  return { events, claims: counts, held: tested > 0 ? wilson(counts.held, tested) : null };
}

/** "6 claims: 4 held, 1 did not, 1 never tested."; what they did not know is not counted as a claim. */
export function claimLine(counts: Counts): string {
  const words = { held: "held", did_not_hold: "did not", never_tested: "never tested" };
  const said = (Object.keys(words) as (keyof typeof words)[]).filter((outcome) => counts[outcome] > 0);
  const total = said.reduce((sum, outcome) => sum + counts[outcome], 0);
  return total > 0 ? `${counted(total, "claim", "claims")}: ${said.map((outcome) => `${counts[outcome]} ${words[outcome]}`).join(", ")}.` : "No claims yet.";
}

function kept<T extends { readonly deleted?: boolean }>(records: readonly T[]): T[] {
  return records.filter(({ deleted }) => !deleted);
}

function dealingEvent(dealing: Dealt, catalogue: Terms): StoryEvent {
  const outcome = dealing.outcome ?? "";
  const knew = outcome === "fair" ? undefined : KNEW[dealing.knew ?? ""];
  const said = catalogue.terms.facets.flatMap(({ id, title }) => (["yes", "no"].includes(dealing.facets?.[id] ?? "") ? [`${title}: ${dealing.facets![id]}`] : []));
  const say = titleOf(catalogue.terms.dealing_outcomes, outcome, "A dealing");
  return { day: dealing.day || "", kind: "dealing", record: dealing.id, tone: TONES[outcome] ?? "none", say: knew ? `${say}: ${knew}` : say, more: said.join(" · ") };
}

/** One event for what was claimed of one piece on one day. */
function claimedEvents(claims: readonly Claimed[], answers: readonly SeenAnswer[], catalogue: Terms): StoryEvent[] {
  const made = kept(claims).filter(({ asserted }) => asserted);
  const key = (claim: Claimed) => `${claim.day ?? ""} ${claim.piece}`;
  return distinct(made.map(key)).map((one) => {
    const here = made.filter((claim) => key(claim) === one);
    const counts = tally(here, answers);
    const broken = distinct(here.filter((claim) => claimOutcome(claim, answers) === "did_not_hold").map(({ check }) => titleOf(catalogue.checks, check, "A check")));
    const tone = broken.length > 0 ? "bad" : counts.held > 0 ? "good" : "none";
    return { day: here[0]!.day ?? "", kind: "claims", record: here[0]!.piece, tone, say: claimLine(counts), more: broken.length > 0 ? `Did not hold: ${broken.join(", ")}` : "" };
  });
}
