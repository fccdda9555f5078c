// How the person reckons: usual currency, half-life of a sale, rest before buying; one record that all their phones share.
import type { MoneyHabits } from "../../domain/deal_terms.ts";
import { moneyHabitsId } from "../../domain/ids.ts";
import { HALF_LIFE_DAYS } from "../../domain/price_baseline.ts";
import { REST_DAYS } from "../../domain/wants.ts";
import { useLive } from "../../store/live.ts";
import type { Store } from "../../store/store.ts";

/** The habits with what is usual where the person said nothing. */
export type Habits = MoneyHabits & { readonly half_life_days: number | null; readonly rest_days: number };

const FIRST_CURRENCY = "EUR";

export async function readHabits(store: Store): Promise<Habits> {
  return { ...(await usualHabits(store)), ...(await store.get(moneyHabitsId()))?.values["habits"] };
}

async function usualHabits(store: Store): Promise<Habits> {
  return { currency: (await store.meta.get("currency")) ?? FIRST_CURRENCY, half_life_days: HALF_LIFE_DAYS, rest_days: REST_DAYS };
}

/** Undefined while they are read. */
export const useHabits = (): Habits | undefined => useLive(readHabits, []);

/** Saves what changed; the currency becomes the one offered first on this phone, too. */
export async function saveHabits(store: Store, changed: Partial<Habits>): Promise<void> {
  const usual = await usualHabits(store);
  await store.change<Partial<Habits>>("money_habits", moneyHabitsId(), "habits", (held) => ({ ...usual, ...held, ...changed }));
  if (changed.currency) await store.meta.set("currency", changed.currency);
}
