// Saves what was typed for one deal; the terms are one field, so that figures which belong together stay together.
import type { SavedTerms } from "../../domain/deal_terms.ts";
import type { Store } from "../../store/store.ts";
import { put } from "./put.ts";
import type { DealRecord } from "./use_deal.ts";

/** Fields of the terms to change; null takes one away, so that the usual counts again. */
export type Keep = (fields: Record<string, unknown>, words?: string) => void;

export function saveTerms(store: Store, deal: DealRecord, about: { piece?: string; session: string | null }, currency: string, fields: Record<string, unknown>, words?: string): void {
  const terms = Object.fromEntries(Object.entries({ ...deal.terms, currency: deal.terms?.currency ?? currency, ...fields } as SavedTerms).filter(([, value]) => value !== null && value !== undefined));
  put(store, "deal", deal.id, { ...about, terms, deleted: false }, words, { terms: { currency } });
}
