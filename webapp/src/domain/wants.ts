// What a person is looking for: days that cannot be, and the rest before buying on impulse.

import { daysBetween } from "./price_baseline.ts";
import type { Want } from "./waiting.ts";

export const REST_DAYS = 14;
const DAY_MS = 86_400_000;

/** A want record with what it says of its rest. */
export interface RestingWant extends Want {
  readonly rest_days?: number | null;
  /** The day on which the person last said that the want stands. */
  readonly stands?: string | null;
}

/**
 * An open want rests so many days from the day it was wanted (own figure of the want, or the usual).
 *
 * `ask`: the rest is over and the person has not said since that the want stands. Null for a want that was found, dropped,
 * or has no day.
 */
export function rest(want: RestingWant, today: string, usualDays = REST_DAYS): { until: string; days_left: number; ask: boolean } | null {
  if (!want.wanted || want.found || want.dropped || want.deleted) return null;
  const until = new Date(Date.parse(`${want.wanted}T00:00:00Z`) + (want.rest_days ?? usualDays) * DAY_MS).toISOString().slice(0, 10);
  const left = Math.max(daysBetween(today, until), 0);
  return { until, days_left: left, ask: left === 0 && (want.stands || "") < until };
}

/** What is wrong with the days of a want, and what to do; null if nothing is. */
export function dayProblem({ wanted, found, dropped }: Want, today: string): string | null {
  const ended = found || dropped;
  if (wanted && wanted > today) return "It cannot have been wanted from a day yet to come. Set today or an earlier day.";
  if (ended && ended > today) return "That day is yet to come. Set today or an earlier day.";
  if (wanted && ended && ended < wanted) {
    return `It cannot be ${found ? "found" : "let go"} before it was wanted. Set a later day, or an earlier one for when you began to want it.`;
  }
  return null;
}
