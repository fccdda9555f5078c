// Plain words and signs for outcomes, verdicts, places and pieces, shared by the screens that show them.
import type { IconName } from "../../ui/icon.tsx";
import type { Tone } from "../../ui/mark.tsx";

export type Outcome = "in_order" | "worn" | "faulty" | "cannot_tell" | "not_checked" | "does_not_apply";

/** In the order of the buttons and of the number keys 1 to 5. */
export const OUTCOMES: readonly { id: Outcome; word: string; tone: Tone }[] = [
  { id: "in_order", word: "In order", tone: "good" },
  { id: "worn", word: "Worn", tone: "worn" },
  { id: "faulty", word: "Faulty", tone: "bad" },
  { id: "cannot_tell", word: "Cannot tell", tone: "unsure" },
  { id: "not_checked", word: "Not checked", tone: "none" },
];

export function outcomeSign(outcome: string | undefined): { word: string; tone: Tone; hollow: boolean } {
  const known = OUTCOMES.find((one) => one.id === outcome);
  if (known) return { word: known.word, tone: known.tone, hollow: outcome === "not_checked" };
  if (outcome === "does_not_apply") return { word: "Does not apply", tone: "none", hollow: true };
  return { word: "Still to look at", tone: "none", hollow: true };
}

const VERDICTS: Record<string, { word: string; tone: Tone }> = {
  ready_to_use: { word: "Ready to use", tone: "good" },
  usable_with_faults: { word: "Usable, faults named", tone: "worn" },
  needs_work_first: { word: "Needs work first", tone: "bad" },
  parts_only: { word: "Parts only", tone: "bad" },
  not_proven: { word: "Not proven", tone: "unsure" },
};

export function verdictSign(verdict: string): { word: string; tone: Tone } {
  return VERDICTS[verdict] ?? { word: verdict.replaceAll("_", " "), tone: "none" };
}

const KIND_ICONS: Record<string, IconName> = { camera: "bellows", lens: "lens", holders: "holder", other: "box" };

export function kindIcon(kind: string | undefined): IconName {
  return KIND_ICONS[kind ?? ""] ?? "box";
}

/** A title inside a sentence: only its first letter is lowered, so that M-X-V stays what it is. */
export function within(title: string): string {
  return title.charAt(0).toLowerCase() + title.slice(1);
}

/** A marked speed with its unit where the mark alone reads as a bare number: "1/50", "1 s". */
export function speedWords(text: string): string {
  return /^\d+$/.test(text) ? `${text}\u00a0s` : text;
}

/** "holder=3;side=a" as "holder 3, side A"; the whole piece has no words. */
export function placeWords(place: string): string {
  if (place === "") return "";
  return place.split(";").map((part) => {
    const [axis = "", value = ""] = part.split("=");
    if (axis === "speed") return speedWords(value);
    if (axis === "side") return `side ${value.toUpperCase()}`;
    if (axis === "extension") return `${value} extension`;
    return `${axis} ${value.replaceAll("_", " ")}`;
  }).join(", ");
}

/** A short span in words: "20 s", "3 min"; a figure never stands without its unit at the end of a line. */
export function spanWords(seconds: number): string {
  return seconds < 90 ? `${Math.round(seconds)}\u00a0s` : `${Math.round(seconds / 60)}\u00a0min`;
}

/** A local day as people say it, in the phone's own language; the text itself if it is no day. */
export function dayWords(day: string | undefined): string {
  if (!day) return "";
  const date = new Date(`${day}T12:00:00`);
  return Number.isNaN(date.getTime()) ? day : date.toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });
}

/** The letter for the next piece: the first free one, then round again. */
export function nextTag(used: readonly string[]): string {
  const letters = Array.from({ length: 26 }, (_, turn) => String.fromCharCode(65 + turn));
  return letters.find((letter) => !used.includes(letter)) ?? letters[used.length % 26]!;
}
