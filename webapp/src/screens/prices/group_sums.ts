// All that the notes of one group say of its price, reckoned the person's way.
import { baseline, byState, byVenue, type Baseline, type ExchangeRate } from "../../domain/price_baseline.ts";
import { priceChart, type PriceChart } from "../../domain/price_chart.ts";
import { trend, type Trend } from "../../domain/price_trend.ts";
import type { Habits } from "../ledger/habits.ts";
import type { KeptNote } from "./notes.ts";

export interface GroupSums {
  readonly base: Baseline;
  readonly states: ReturnType<typeof byState>;
  readonly venues: ReturnType<typeof byVenue>;
  readonly trend: Trend;
  readonly chart: PriceChart | null;
}

export function sumsOf(notes: readonly KeptNote[], { currency, half_life_days: halfLife }: Habits, today: string, rates: readonly ExchangeRate[]): GroupSums {
  const base = baseline(notes, currency, today, halfLife, rates);
  const found = trend(notes, currency, rates);
  return {
    base,
    states: byState(notes, currency, today, halfLife, rates),
    venues: byVenue(notes, currency, today, halfLife, rates),
    trend: found,
    chart: priceChart(notes, currency, base, found, rates),
  };
}
