// What is said of a photo and of its places: always a place in this photo, never a count of holes, never a share.
import leaks from "@catalogue/leaks.json";
import type { SecondPhoto, Settled } from "../../domain/leak_compare.ts";
import type { LeakResult } from "../../domain/leak_finder.ts";
import type { LeakPlace } from "../../domain/leak_reading.ts";
import { spotWords } from "../photo/spots.ts";

export interface Told { readonly tone: "bad" | "care" | "tell"; readonly title: string; readonly words: readonly string[] }

const REASONS: Readonly<Record<string, string>> = leaks.reasons;
/** Nothing is looked for in such a photo. */
const SPOILT = ["black", "too_much_light"];

/** The verdict on a photo. `any`: places are shown; `limit`: what its own limit allows to be said. */
export function verdictWords(machine: LeakResult, any: boolean, limit: string | null): Told {
  const reasons = machine.reasons.map((reason) => REASONS[reason] ?? reason);
  if (machine.reasons.some((reason) => SPOILT.includes(reason))) return { tone: "bad", title: "This photo cannot be judged", words: reasons };
  const further = limit ? [limit] : [];
  if (reasons.length) return { tone: "care", title: "Perhaps not sharp", words: [...reasons, ...further] };
  if (machine.sharpness === "cannot_tell") further.push("The photo has no edges that would tell whether it is sharp.");
  return any
    ? { tone: "tell", title: "Bright places in this photo", words: ["Each may be light coming through, or a glint on metal. Look at every one.", ...further] }
    : { tone: "tell", title: "No bright place stands out", words: [...further, "Fainter light would not show here. Other lengths and directions may."] };
}

export function placeWords(place: LeakPlace): string {
  const more = [place.strength, place.kind === "streak" ? "drawn out" : null].filter((word) => word !== null);
  return [spotWords(place.at), ...(place.said === "added" ? ["added by you"] : more)].join(", ");
}

export const SAID: Readonly<Record<LeakPlace["said"], string>> = {
  candidate: "not judged yet", confirmed: "light, you say", struck_out: "no light, you say", added: "light, you say",
};

export const SETTLED: Readonly<Record<Settled, string>> = {
  gone: "Gone with the lamp off: it was the lamp's light.",
  stays: "Still there with the lamp off: a reflection, or the camera's own.",
  follows: "Went along with the piece, as light through a hole does.",
  stays_in_frame: "Stayed where it was in the frame: the camera's own bright pixel, if the phone did move.",
  not_seen_again: "Not where the piece went: perhaps a reflection.",
  cannot_tell: "The two photos do not say.",
};

export const SECOND: Readonly<Record<SecondPhoto, { title: string; hint: string }>> = {
  lamp_off: { title: "Lamp off", hint: "Phone still where it was" },
  moved: { title: "Phone moved", hint: "A hand's width aside, lamp on" },
};
