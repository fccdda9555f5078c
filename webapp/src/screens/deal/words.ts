// Deals in plain words: amounts, chances, what drives a ceiling, and the answer to "buy or not?".
import type { BuyOrNot } from "../../domain/buy_or_not.ts";
import type { DealSheet } from "../../domain/deal_sheet.ts";
import { decimals, showMoney } from "../../domain/money.ts";

export const BUY_WORDS: Record<BuyOrNot["word"], string> = {
  yes: "Yes: under all of what it may be worth",
  rather_yes: "Rather yes: under the ceiling, though within its span",
  rather_not: "Rather not: above the ceiling, though within its span",
  no: "No: above all of what it may be worth",
};

/** An amount rounded to three figures, as no sum of guesses is better: 1234 becomes 1230. */
export function about(minor: number, currency: string): string {
  const unit = 10 ** Math.max(Math.floor(Math.log10(Math.max(Math.abs(minor), 1))) - 2, decimals(currency));
  return showMoney({ minor: Math.round(minor / unit) * unit, currency });
}

/** "1 in 5", "1 in 20", "almost sure". */
export function chanceWords(chance: number): string {
  if (chance > 0.9) return "almost sure";
  if (chance >= 0.4) return `${Math.round(chance * 10)} in 10`;
  return `1 in ${Math.round(1 / chance)}`;
}

type Drive = DealSheet["drives"][number];

export function driveWords({ kind, chance, spread_share: spread }: Drive): string {
  const what = { fault: "seen", unseen: `not looked at: ${chanceWords(chance)}, and counted by that chance`, weeks: "at your rate for a week", on_top: "on top of the price" }[kind];
  return spread >= 0.25 ? `${what}; ${Math.round(spread * 100)} % of what is unsure` : what;
}
