// All that is noted of one seller as plain text that anybody can read: what an export of them hands over.
import type { StoryEvent } from "../../domain/seller_story.ts";
import type { Rec } from "../../store/store.ts";
import { venueWord } from "./words.ts";

export interface SellerText {
  seller: Rec;
  others: readonly Rec[];
  events: readonly StoryEvent[];
  dealings: readonly Rec[];
  claims: readonly Rec[];
  /** Titles of checks by id. */
  titles: ReadonlyMap<string, string>;
  day: string;
}

const entry = ({ values }: Rec): string[] => [
  [values["name"], venueWord(values["venue_kind"]), values["place"]].filter(Boolean).join(", "),
  ...(values["note"] ? [`Note: ${values["note"]}`] : []),
];

const newestFirst = (a: Rec, b: Rec): number => String(b.values["day"]).localeCompare(String(a.values["day"]));

export function sellerText({ seller, others, events, dealings, claims, titles, day }: SellerText): string {
  const notes = [...dealings].sort(newestFirst).filter(({ values }) => values["note"]).map(({ values }) => `${values["day"] ?? ""}: ${values["note"]}`);
  const said = [...claims].sort(newestFirst).map(({ values }) =>
    `${values["day"] ?? ""}: ${titles.get(values["check"]) ?? values["check"]}, claimed ${String(values["asserted"]?.outcome).replaceAll("_", " ")}${values["words"] ? `: “${values["words"]}”` : ""}`);
  const part = (title: string, lines: readonly string[]): string[] => (lines.length > 0 ? ["", title, ...lines] : []);
  return [
    `All that is noted of ${seller.values["name"] || "a seller"}, ${day}. Private: not for others.`,
    ...part("Entries", [seller, ...others].flatMap(entry)),
    ...part("In time", events.map((one) => [one.day, one.say, one.more].filter(Boolean).join(": "))),
    ...part("Notes on dealings", notes),
    ...part("Claims", said),
    "",
  ].join("\n");
}
