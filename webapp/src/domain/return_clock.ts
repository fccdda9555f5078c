// Until when a thing bought from afar may go back, counted in whole days and said plainly.

import { counted, dayWords } from "./report_words.ts";

const DAY_MS = 86_400_000;

/** The last day to send it back: `days` after the day it arrived, which itself does not count. Throws RangeError for what is no day. */
export function returnUntil(arrived: string, days: number): string {
  return new Date(msOf(arrived) + days * DAY_MS).toISOString().slice(0, 10);
}

/** Whole days left, 0 on the last one, below 0 when it is over. Throws RangeError for what is no day. */
export function countdown(until: string, today: string): { days: number; over: boolean; line: string } {
  const days = Math.round((msOf(until) - msOf(today)) / DAY_MS);
  const line = days < 0 ? `The time to send it back ended on ${dayWords(until)}.`
    : days === 0 ? "Today is the last day to send it back."
    : `${counted(days, "day", "days")} left to send it back, until ${dayWords(until)}.`;
  return { days, over: days < 0, line };
}

/** Midnight of the day as if it lay in UTC, where every day has 24 hours. */
function msOf(day: string): number {
  const ms = /^\d{4}-\d{2}-\d{2}$/.test(day) ? Date.parse(`${day}T00:00:00Z`) : NaN;
  if (Number.isNaN(ms) || new Date(ms).toISOString().slice(0, 10) !== day) throw new RangeError(`not a day: ${day}`);
  return ms;
}
