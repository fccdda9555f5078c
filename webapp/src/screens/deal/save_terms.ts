// Saves what was typed for one deal; the terms are one field, so that figures which belong together stay together.
import { dealTerms, type SavedTerms } from "../../domain/deal_terms.ts";
import type { Store } from "../../store/store.ts";
import { put } from "./put.ts";
import type { DealRecord, Ledger } from "./use_deal.ts";

/** What was typed for a deal, turned into another currency by the person's rates; null where a rate is wanting. */
export function termsIn(terms: SavedTerms | null, to: string, { rates, day, habits }: Ledger): Record<string, unknown> | null {
  if (!terms) return { currency: to };
  const { deal, missing } = dealTerms(terms, habits, null, null, to, day, rates);
  if (missing.includes("terms")) return null;
  const typed = (["value", "freight_minor", "travel_minor", "margin_minor"] as const).filter((name) => terms[name] !== undefined);
  return { currency: to, ...Object.fromEntries(typed.map((name) => [name, deal[name]])) };
}

/** Fields of the terms to change; null takes one away, so that the usual counts again. */
export type Keep = (fields: Record<string, unknown>, words?: string) => void;

export function saveTerms(store: Store, deal: DealRecord, about: { piece?: string; session: string | null }, currency: string, fields: Record<string, unknown>, words?: string): void {
  const terms = Object.fromEntries(Object.entries({ ...deal.terms, currency: deal.terms?.currency ?? currency, ...fields } as SavedTerms).filter(([, value]) => value !== null && value !== undefined));
  put(store, "deal", deal.id, { ...about, terms, deleted: false }, words, { terms: { currency } });
}
