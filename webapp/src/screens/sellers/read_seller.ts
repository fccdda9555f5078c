// All that is noted of one seller, under every entry that stands for them: dealings, meetings, deals, claims and what was seen since.
import type { SeenAnswer } from "../../domain/claim_outcome.ts";
import { head, type SellerEntry } from "../../domain/seller_fairness.ts";
import type { Claimed, Dealt, Decided, Met } from "../../domain/seller_story.ts";
import type { Rec, Store } from "../../store/store.ts";
import { kept, plain } from "../visit/view.ts";

export interface SellerView {
  /** The entry that stands for them. */
  seller: Rec;
  /** Other entries of the same person. */
  others: Rec[];
  sessions: Rec[];
  dealings: Rec[];
  deals: Rec[];
  claims: Rec[];
  answers: SeenAnswer[];
}

export const entriesOf = (sellers: readonly Rec[]): Record<string, SellerEntry> => Object.fromEntries(sellers.filter(kept).map((one) => [one.id, plain(one) as SellerEntry]));

/** Null when the seller is not on this phone. */
export async function readSeller(store: Store, id: string): Promise<SellerView | null> {
  const sellers = (await store.byKind("seller")).filter(kept);
  const entries = entriesOf(sellers);
  const first = head(id, entries);
  const seller = sellers.find((one) => one.id === first);
  if (!seller) return null;
  const others = sellers.filter((one) => one.id !== first && head(one.id, entries) === first);
  const below = (await Promise.all([seller, ...others].map((one) => store.children(one.id)))).flat().filter(kept);
  const sessions = below.filter(({ kind }) => kind === "session");
  const inSessions = (await Promise.all(sessions.map((one) => store.children(one.id)))).flat().filter(kept);
  const visits = new Set(inSessions.filter(({ kind }) => kind === "visit").map((one) => one.id));
  const pieces = [...new Set(inSessions.filter(({ kind }) => kind === "visit").map((one) => one.values["piece"] as string))];
  const ofPieces = (await Promise.all(pieces.map((one) => store.children(one)))).flat().filter(kept);
  // An earlier owner's word is not the seller's.
  const claims = ofPieces.filter((one) => one.kind === "claim" && one.values["by"] === "seller" && visits.has(one.values["visit"]));
  const looks = [...new Map(ofPieces.filter((one) => one.kind === "visit").map((one) => [one.id, one])).values()];
  const answers = await Promise.all(looks.map(async (look) => (await store.children(look.id, "answer")).filter(kept).map((one) => ({ ...plain(one), piece: look.values["piece"] }) as SeenAnswer)));
  return { seller, others, sessions, dealings: below.filter(({ kind }) => kind === "dealing"), deals: inSessions.filter(({ kind }) => kind === "deal"), claims, answers: answers.flat() };
}

/** As the domain's story takes them. */
export const storyInput = (view: SellerView) => [
  view.sessions.map((one) => plain(one) as Met), view.dealings.map((one) => plain(one) as Dealt), view.deals.map((one) => plain(one) as Decided),
  view.claims.map((one) => plain(one) as Claimed), view.answers,
] as const;

/** Dealings under every entry as if noted under the one that stands for them. */
export const ownDealings = (view: SellerView) => view.dealings.map((one) => ({ ...plain(one), seller: view.seller.id }));
