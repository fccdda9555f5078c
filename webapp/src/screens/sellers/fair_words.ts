// Shares of fair dealings in words: never a bare figure, always with its interval and how many dealings stand behind it.
import type { RankedSeller, Usual } from "../../domain/seller_fairness.ts";
import { counted } from "../../domain/report_words.ts";
import { venueWord } from "./words.ts";

const percent = (share: number): string => String(Math.round(share * 100));

/** "Fair 62 to 97 % of the time, by 12 dealings"; with none noted it says so instead. */
export function fairWords({ of, low, high }: Pick<RankedSeller, "of" | "low" | "high">): string {
  if (of === 0) return "No dealings noted yet.";
  return `Fair in ${percent(low)} to ${percent(high)} % of dealings, by ${counted(of, "dealing", "dealings")} (19 times in 20).`;
}

/** What the few dealings are pulled toward, and how strongly. */
export function usualWords({ share, weight }: Usual, venueKind: string | undefined, of: number): string {
  const kind = venueWord(venueKind).toLowerCase();
  const usual = `What is usual ${kind ? `for this kind of venue (${kind})` : "in your log"}, ${percent(share)} % fair, counts as ${counted(Math.round(weight), "dealing", "dealings")}`;
  if (of === 0) return `${usual}: all there is to go by.`;
  return of < weight ? `${usual} and still weighs more than their own ${of}.` : `${usual} beside their own ${of}.`;
}

/** "9 of 10 claims that were tested held; that is 60 to 98 % (19 times in 20)". */
export function heldWords(held: { low: number; high: number }, kept: number, tested: number): string {
  return `${kept} of ${tested} tested claims held: ${percent(held.low)} to ${percent(held.high)} % (19 times in 20).`;
}
