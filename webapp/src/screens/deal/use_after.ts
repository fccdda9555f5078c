// What came after the looking: the decision, repairs, film tests, and what became of the claims about the piece.
import type { Claim, SeenAnswer } from "../../domain/claim_outcome.ts";
import { type RepairCost, repairCosts } from "../../domain/repair_costs.ts";
import { useLive } from "../../store/live.ts";
import type { Rec, Store } from "../../store/store.ts";
import { kept, plain } from "../visit/view.ts";
import { type DealRecord, readDeal } from "./use_deal.ts";

export interface After {
  deal: DealRecord;
  repairs: Rec[];
  films: Rec[];
  /** Of the films, by id. */
  photos: ReadonlyMap<string, Rec>;
  claims: (Claim & { readonly id: string; readonly by?: string })[];
  /** Of every visit of the piece. */
  seen: SeenAnswer[];
  seller: Rec | undefined;
  /** From all repairs in the book. */
  paid: RepairCost[];
}

async function readAfter(store: Store, visit: string): Promise<After | null> {
  const here = await store.get(visit);
  if (here?.kind !== "visit") return null;
  const piece = here.values["piece"] as string;
  const session = (here.values["session"] as string | null | undefined) ?? null;
  const [deal, near, home, all] = await Promise.all([readDeal(store, session, piece), store.children(piece), session ? store.get(session) : undefined, store.byKind("repair")]);
  const of = (kind: string) => near.filter((one) => one.kind === kind && kept(one));
  const answers = await Promise.all(of("visit").map((one) => store.children(one.id, "answer")));
  const photos = await Promise.all(of("film_test").map(async ({ values }) => (values["photo"] ? store.get(values["photo"]) : undefined)));
  return {
    deal,
    repairs: of("repair").sort(byField("sent")),
    films: of("film_test").sort(byField("day")),
    photos: new Map(photos.flatMap((one) => (one && kept(one) ? [[one.id, one]] : []))),
    claims: of("claim").map(plain),
    seen: answers.flat().filter(kept).map(plain),
    seller: home?.values["seller"] ? await store.get(home.values["seller"]) : undefined,
    paid: repairCosts(all.filter(kept).map(plain)),
  };
}

const byField = (field: string) => (a: Rec, b: Rec): number => String(a.values[field] ?? "").localeCompare(String(b.values[field] ?? ""));

export const useAfter = (visit: string): After | null | undefined => useLive((store) => readAfter(store, visit), [visit]);
