// The person's price notes, wants and rates as the domain takes them, and the groups they made up.
import type { ExchangeRate } from "../../domain/price_baseline.ts";
import type { FullNote } from "../../domain/price_table.ts";
import { useLive } from "../../store/live.ts";
import type { Store } from "../../store/store.ts";
import { kept, plain } from "../visit/view.ts";

export type KeptNote = FullNote & { readonly id: string };
export type KeptRate = ExchangeRate & { readonly id: string };

export const NO_GROUP = "No group yet";

const newestFirst = (a: KeptNote, b: KeptNote): number => (b.day ?? "").localeCompare(a.day ?? "") || a.id.localeCompare(b.id);

export async function readNotes(store: Store): Promise<KeptNote[]> {
  return ((await store.byKind("price_note")).filter(kept).map(plain) as KeptNote[]).sort(newestFirst);
}

export async function readRates(store: Store): Promise<KeptRate[]> {
  return ((await store.byKind("exchange_rate")).filter(kept).map(plain) as KeptRate[]).sort((a, b) => (b.day ?? "").localeCompare(a.day ?? ""));
}

/** Undefined while they are read. */
export const useNotes = (): KeptNote[] | undefined => useLive(readNotes, []);
export const useRates = (): KeptRate[] | undefined => useLive(readRates, []);

/** Names of groups the person has used for prices and wants, in the order of the alphabet. */
export const useGroups = (): string[] | undefined => useLive(async (store) => {
  const named = (await Promise.all(["price_note", "want"].map((kind) => store.byKind(kind)))).flat().filter(kept).map(({ values }) => values["group"] as string | undefined);
  return [...new Set(named.filter(Boolean) as string[])].sort((a, b) => a.localeCompare(b));
}, []);

/** Notes by the person's own groups, most notes first; those without a group last. */
export function byGroup(notes: readonly KeptNote[]): [string, KeptNote[]][] {
  const groups = new Map<string, KeptNote[]>();
  for (const note of notes) groups.set(note.group ?? "", [...(groups.get(note.group ?? "") ?? []), note]);
  return [...groups].sort(([a, some], [b, others]) => Number(a === "") - Number(b === "") || others.length - some.length || a.localeCompare(b));
}
