// Waiting in plain words: how long so far, how long such things took, and how far that may be trusted.
import { daysBetween } from "../../domain/price_baseline.ts";
import { fixed } from "../../domain/rounding.ts";
import { LEAST_FOUND, type KeptWant, type Waiting } from "./wants.ts";

/** "4 days", "5 weeks": whole weeks gone by, days below two weeks. */
export function sinceWords(day: string, until: string): string {
  const days = daysBetween(day, until);
  if (days < 14) return days === 1 ? "1 day" : `${days} days`;
  return `${Math.floor(days / 7)} weeks`;
}

/** Whole weeks that hold so many: "7 weeks" for 6.4, as in “within”. */
export function withinWords(weeks: number): string {
  const whole = Math.ceil(weeks - 1e-9);
  return whole <= 1 ? "a week" : `${whole} weeks`;
}

const things = (count: number): string => (count === 1 ? "1 want" : `${count} wants`);

/** Of what it was reckoned: "9 wants, 3 of them not found so far". */
export function countWords({ waits, open }: Pick<Waiting, "waits" | "open">): string {
  if (open === 0) return `${things(waits.length)}, all found`;
  return `${things(waits.length)}, ${open} of them not found so far`;
}

/** How long half took, with its interval; why it cannot be said where it cannot. */
export function medianWords({ found, median, waits }: Waiting): string {
  if (found < LEAST_FOUND) return `Too few to say how long it takes: ${found} of ${things(waits.length)} found, ${LEAST_FOUND} are needed.`;
  if (median.weeks === null) return "Fewer than half have turned up so far, so the middle wait is not known.";
  const low = median.low === null ? "" : withinWords(median.low);
  const interval = median.high === null ? `95 % interval from ${low} with no upper end yet` : `95 % interval ${low} to ${withinWords(median.high)}`;
  return `Half of them turned up within ${withinWords(median.weeks)} (${interval}).`;
}

/** "You have waited 5 weeks; half of such pieces turned up within 7 weeks (…)." */
export function waitedLine(want: KeptWant, today: string, of: "group" | "all", waiting: Waiting): string {
  const begin = want.wanted ? `You have waited ${sinceWords(want.wanted, today)}` : "It has no day yet";
  if (waiting.found < LEAST_FOUND || waiting.median.weeks === null) return `${begin}. ${medianWords(waiting)}`;
  const { low, high, weeks } = waiting.median;
  const interval = `95 % interval ${low === null ? "0" : withinWords(low)} to ${high === null ? "no upper end yet" : withinWords(high)}`;
  return `${begin}; half of ${of === "group" ? "such pieces" : "all you wanted"} turned up within ${withinWords(weeks)} (${interval}; ${countWords(waiting)}).`;
}

const percent = (share: number): string => `${fixed(share * 100, 0)} %`;

/** The chance within so many weeks, beyond the longest watched not said. */
export function chanceWords(waiting: Waiting, weeks: number): string {
  const longest = Math.max(0, ...waiting.waits.map((wait) => wait.weeks));
  if (waiting.found < LEAST_FOUND) return "too few to say";
  if (weeks > longest) return `not known: the longest wait so far is ${withinWords(longest)}`;
  const { chance, low, high } = waiting.within(weeks);
  if (chance === 0) return "none turned up so soon";
  if (chance === 1) return `all ${things(waiting.waits.length)} had turned up`;
  return `${percent(chance)} (95 % interval ${percent(low)} to ${percent(high)})`;
}
