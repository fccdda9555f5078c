// Everything a deal is reckoned from, and what it comes to; reckoned after the screen has answered the tap.
import { useEffect, useState } from "preact/hooks";
import { type BuyOrNot, buyOrNot } from "../../domain/buy_or_not.ts";
import type { Catalogue } from "../../domain/catalogue.ts";
import type { Answer, Piece } from "../../domain/checks.ts";
import { type DealSheet, dealSheet } from "../../domain/deal_sheet.ts";
import { dealTerms, pricedIn, type ReadyTerms, type SavedTerms } from "../../domain/deal_terms.ts";
import { dealId } from "../../domain/ids.ts";
import { type Baseline, baseline, type ExchangeRate, type PriceNote } from "../../domain/price_baseline.ts";
import type { OwnCost } from "../../domain/remedies.ts";
import type { Money } from "../../domain/money.ts";
import { useLive } from "../../store/live.ts";
import type { Rec, Store } from "../../store/store.ts";
import { type Habits, readHabits } from "../ledger/habits.ts";
import { today } from "../visit/today.ts";
import { kept, plain, type VisitView } from "../visit/view.ts";

/** What any deal on this phone is reckoned with. */
export interface Ledger { habits: Habits; rates: (ExchangeRate & { readonly id: string })[]; notes: PriceNote[]; day: string }

/** A deal record that is there or would be made: `record` is undefined until something is typed. */
export interface DealRecord { id: string; record: Rec | undefined; terms: SavedTerms | null }

export interface Reckoned {
  terms: ReadyTerms;
  sheet: DealSheet;
  /** Of the group chosen, working sales only; null without a group. */
  known: Baseline | null;
  buy: BuyOrNot | null;
}

async function readLedger(store: Store): Promise<Ledger> {
  const [habits, rates, notes] = await Promise.all([readHabits(store), store.byKind("exchange_rate"), store.byKind("price_note")]);
  return { habits, rates: rates.filter(kept).map(plain), notes: notes.filter(kept).map(plain), day: today() };
}

export const useLedger = (): Ledger | undefined => useLive(readLedger, []);

/** The deal about `piece` at `session`; without a piece, about the whole lot. */
export async function readDeal(store: Store, session: string | null, piece: string | null): Promise<DealRecord> {
  const near = await store.children(piece ?? session!, "deal");
  const record = near.find((one) => kept(one) && (one.values["session"] ?? null) === session && (one.values["piece"] ?? null) === piece);
  return { id: record?.id ?? dealId(session ?? "", piece ?? ""), record, terms: record?.values["terms"] ?? null };
}

/** Where a deal says no currency it is that of the price asked, else the person's usual one. */
export const currencyOf = (terms: SavedTerms | null, asking: Money | null, habits: Habits): string => terms?.currency ?? asking?.currency ?? habits.currency;

/** The sheet of one piece, in `currency`. */
export function reckon(view: Pick<VisitView, "piece" | "answers" | "costs">, asking: Money | null, saved: SavedTerms | null, ledger: Ledger, catalogue: Catalogue, currency: string): Reckoned {
  const { habits, rates, notes, day } = ledger;
  const working = notes.filter((note) => saved?.group && note.group === saved.group && note.state === "working");
  const known = saved?.group ? baseline(working, currency, day, habits.half_life_days, rates) : null;
  const terms = dealTerms(saved, habits, asking, known, currency, day, rates);
  const { shared, costs } = pricesIn(view.costs, catalogue, ledger, currency);
  const sheet = dealSheet(terms.deal, plain(view.piece) as Piece, view.answers.map(plain) as Answer[], shared, costs);
  return { terms, sheet, known, buy: buyOrNot(sheet) };
}

/** Catalogue and own costs in `currency`, as far as rates were typed. */
export function pricesIn(own: readonly Rec[], catalogue: Catalogue, { rates, day }: Ledger, currency: string): { shared: Catalogue; costs: OwnCost[] } {
  return { shared: { ...catalogue, remedies: pricedIn(catalogue.remedies, currency, day, rates) }, costs: pricedIn(own.map(plain) as OwnCost[], currency, day, rates) };
}

/** The result of `work`, a moment after the inputs came, so that the tap that brought them is answered first; the one before meanwhile. */
export function useLater<T>(work: () => T | undefined, inputs: readonly unknown[]): T | undefined {
  const [result, setResult] = useState<T | undefined>(undefined);
  useEffect(() => {
    const timer = setTimeout(() => setResult(work), 0);
    return () => clearTimeout(timer);
  }, inputs);
  return result;
}

/** Undefined until it is reckoned. */
export function useReckoned(view: VisitView | undefined, catalogue: Catalogue | undefined) {
  const ledger = useLedger();
  const piece = view?.piece.id ?? "";
  const session = (view?.visit.values["session"] as string | null | undefined) ?? null;
  const deal = useLive(async (from) => (piece === "" ? undefined : readDeal(from, session, piece)), [session, piece]);
  const asking = (view?.visit.values["asking"] as Money | null | undefined) ?? null;
  const reckoned = useLater(() => {
    if (!view || !catalogue || !ledger || !deal) return undefined;
    const currency = currencyOf(deal.terms, asking, ledger.habits);
    return { of: view.visit.id, currency, ...reckon(view, asking, deal.terms, ledger, catalogue, currency) };
  }, [view, catalogue, ledger, deal]);
  return reckoned && ledger && deal && reckoned.of === view?.visit.id ? { ledger, deal, asking, session, ...reckoned } : undefined;
}

export type ReadyDeal = NonNullable<ReturnType<typeof useReckoned>>;
