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
  const [record, usual] = [await store.get(moneyHabitsId()), await store.meta.get("currency")];
  return { currency: usual ?? FIRST_CURRENCY, half_life_days: HALF_LIFE_DAYS, rest_days: REST_DAYS, ...record?.values["habits"] };
}

/** Undefined while they are read. */
export const useHabits = (): Habits | undefined => useLive(readHabits, []);

/** Saves what changed; the currency becomes the one offered first on this phone, too. */
export async function saveHabits(store: Store, changed: Partial<Habits>): Promise<void> {
  await store.set("money_habits", moneyHabitsId(), { habits: { ...(await readHabits(store)), ...changed } });
  if (changed.currency) await store.meta.set("currency", changed.currency);
}
