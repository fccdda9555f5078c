// The answer to "so, buy or not?": where the asking price lies against the ceiling and its span.

import type { DealSheet } from "./deal_sheet.ts";

export interface BuyOrNot {
  /** "yes" at or under the whole span, "rather_yes" up to the ceiling, "rather_not" above it but within its span, "no" beyond. */
  readonly word: "yes" | "rather_yes" | "rather_not" | "no";
  /** How far the ceiling lies above what is asked; below zero where it lies under it. */
  readonly room_minor: number;
}

/** Null without a ceiling or an asking price. */
export function buyOrNot({ ceiling, asking_minor: asking }: Pick<DealSheet, "ceiling" | "asking_minor">): BuyOrNot | null {
  if (ceiling === null || asking === null) return null;
  const word = asking <= ceiling.low_minor ? "yes" : asking <= ceiling.middle_minor ? "rather_yes" : asking <= ceiling.high_minor ? "rather_not" : "no";
  return { word, room_minor: ceiling.middle_minor - asking };
}
