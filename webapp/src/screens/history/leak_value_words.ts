// A reading of a dark photo in words: what the machine found, what a person said of each place, the second photo beside it.
import leaks from "@catalogue/leaks.json";
import { type LeakMark, strengthWord } from "../../domain/leak_reading.ts";
import { counted } from "../../domain/report_words.ts";
import type { Machine } from "../leaks/work.ts";
import { SAID, SECOND } from "../leaks/words.ts";
import { spotWords } from "../photo/spots.ts";

const REASONS: Readonly<Record<string, string>> = leaks.reasons;
/** More places than these are counted, not told one by one. */
const TOLD = 4;

/** "3 bright places: 1 strong, 2 weak", with why the photo is in doubt, where it is. */
export function machineWords({ points, reasons }: Pick<Machine, "points" | "reasons">): string {
  const strengths = points.map(({ strength }) => strengthWord(strength));
  const each = [...new Set(strengths)].map((word) => `${strengths.filter((other) => other === word).length} ${word}`);
  const found = points.length === 0 ? "no bright place" : `${counted(points.length, "bright place", "bright places")}: ${each.join(", ")}`;
  return [found, ...reasons.map((reason) => REASONS[reason] ?? reason)].join(". ");
}

/** "light, you say" is for the one who said it; here it may have been somebody else. */
const said = (mark: LeakMark): string => (mark.said === "added" ? "added by hand" : SAID[mark.said].replace(", you say", ""));

export function marksWords(marks: readonly LeakMark[]): string {
  if (marks.length <= TOLD) return marks.map((mark) => `${spotWords(mark.at)}: ${said(mark)}`).join("; ");
  const words = marks.map(said);
  return [...new Set(words)].map((word) => `${words.filter((other) => other === word).length} ${word}`).join(", ");
}

export function secondWords({ how, machine }: { how: keyof typeof SECOND; machine: Machine }): string {
  return `${SECOND[how].title.toLowerCase()}; ${machineWords(machine)}`;
}

export const regionWords = (corners: readonly unknown[]): string => `drawn by hand, ${counted(corners.length, "corner", "corners")}`;
