// Any value of any field in plain words: for a history, and to tell two versions apart.
import type { Catalogue } from "../../domain/catalogue.ts";
import { showMoney, type Money } from "../../domain/money.ts";
import { dayWords, outcomeSign, placeWords, speedWords, within } from "../visit/words.ts";
import { machineWords, marksWords, regionWords, secondWords } from "./leak_value_words.ts";

export interface WordsFrom {
  catalogue: Catalogue;
  /** What to call other records, by id. */
  names: ReadonlyMap<string, string>;
  /** The check that the record is about. */
  check?: string;
}

type Obj = Record<string, any>;
type Titled = readonly { id: string; title: string }[];

const ID = /^[0-9a-f]{32}$/;
export const isId = (value: unknown): value is string => typeof value === "string" && ID.test(value);
const DAY = /^\d{4}-\d{2}-\d{2}$/;
const NOTHING = "nothing";
/** Where an empty field says something. */
const EMPTY: Record<string, string> = { "leak_reading.region": "all of it" };

/** A moment in the phone's own time and language. */
export const momentWords = (ms: number): string =>
  new Date(ms).toLocaleString(undefined, { day: "numeric", month: "short", year: "numeric", hour: "2-digit", minute: "2-digit" });

const titleIn = (list: Titled, id: string): string | undefined => list.find((one) => one.id === id)?.title;
const joined = (parts: readonly (string | false | null | undefined)[]): string => parts.filter(Boolean).join(", ");

/** Words for the value of `field` in a record of `kind`; `nothing` where the field is empty. Never throws: the value may be a newer app's. */
export function valueWords(kind: string, field: string, value: unknown, from: WordsFrom): string {
  if (value === null || value === undefined || value === "" || (Array.isArray(value) && value.length === 0)) return EMPTY[`${kind}.${field}`] ?? NOTHING;
  try {
    return SPECIAL[`${kind}.${field}`]?.(value as Obj, from) ?? plainly(field, value, from);
  } catch {
    return "something this version cannot show";
  }
}

const result = (value: Obj, { catalogue, check }: WordsFrom): string => {
  const faults = catalogue.checks.find((one) => one.id === check)?.faults ?? [];
  const reason = value["reason_text"] || titleIn(catalogue.terms.not_checked_reasons, value["reason"] ?? "");
  return joined([
    outcomeSign(value["outcome"]).word,
    ...(value["faults"] ?? []).map((id: string) => within(titleIn(faults, id) ?? id)),
    value["good_up_to"] && `good up to ${speedWords(value["good_up_to"].text)}`,
    reason && within(reason),
  ]);
};

const span = (value: Obj, currency: string): string => {
  const [low, likely, high] = ["low_minor", "likely_minor", "high_minor"].map((name) => showMoney({ minor: value[name], currency }));
  return `${likely} (${low} to ${high})`;
};

/** A language by its code, in the phone's own words. */
const languageWords = (code: string): string => new Intl.DisplayNames(undefined, { type: "language" }).of(code) ?? code;

const ALLOWED: Record<string, string> = { yes: "allowed", no: "not allowed", not_said: "not said" };
const PAYS: Record<string, string> = { seller: "the seller pays the way", buyer: "the buyer pays the way" };

const shares = (value: Obj, names: readonly string[]): (string | false)[] => names.map((name) => value[name] !== undefined && `${name} ${Math.round(value[name] * 1e5) / 1e3} %`);
const amounts = (value: Obj, names: Record<string, string>): (string | false)[] =>
  Object.entries(names).map(([name, words]) => value[`${name}_minor`] !== undefined && `${words} ${showMoney({ minor: value[`${name}_minor`], currency: value["currency"] })}`);

const SPECIAL: Record<string, (value: Obj, from: WordsFrom) => string | undefined> = {
  "answer.result": result,
  "claim.asserted": result,
  "claim.evidence": (id, { catalogue }) => titleIn(catalogue.terms.evidence_kinds, String(id)),
  "piece.kind": (id, { catalogue }) => titleIn(catalogue.terms.piece_kinds, String(id)),
  "piece.type": (id, { catalogue }) => titleIn(Object.values(catalogue.terms.piece_types).flat(), String(id)),
  "piece.format": (id, { catalogue }) => titleIn(catalogue.formats, String(id)),
  "piece.shutter_kind": (id, { catalogue }) => titleIn(catalogue.shutter_kinds, String(id)),
  "piece.speeds": (list) => list["marks"].map((mark: Obj) => mark["text"]).join(" "),
  "piece.marks": (list) => list.map((mark: Obj) => `${mark["place"] || "somewhere"}: ${mark["none_marked"] ? "none marked" : `“${mark["text"]}”`}`).join("; "),
  "piece.comes_with": (list) => list.map((one: Obj) => (one["count"] === 0 ? `no ${one["item"]}` : `${one["count"]} × ${one["item"]}`)).join(", "),
  "piece.screen_stack": (list, { catalogue }) => list.map((one: Obj) => titleIn(catalogue.terms.screen_surfaces, one["surface"]) ?? one["surface"]).join(", then "),
  "piece.holders": (set, { catalogue }) => joined([
    `${set["count"]} ${set["count"] === 1 ? "holder" : "holders"}`,
    set["numbers"]?.length > 0 && `numbered ${set["numbers"].join(" ")}`,
    set["film_size"] && `film ${titleIn(catalogue.formats, set["film_size"]) ?? set["film_size"]}`,
    set["family"] && `outside ${titleIn(catalogue.formats, set["family"]) ?? set["family"]}`,
    set["registers_on"] && `registers on ${within(titleIn(catalogue.terms.registers_on, set["registers_on"]) ?? set["registers_on"])}`,
    set["build"] && within(titleIn(catalogue.terms.builds, set["build"]) ?? set["build"]),
  ]),
  "piece.parts_only": (value) => value["reason"],
  "visit.occasion": (id, { catalogue }) => titleIn(catalogue.terms.occasions, String(id)),
  "visit.sample": (value) => joined([`${value["looked"]} of ${value["of"]}`, value["how"]]),
  "visit.temperature": (value) => (value["celsius"] === null ? "not known" : `${value["celsius"]} °C`),
  "reading.typed": (value) => `${value["text"]} ${value["unit"] === "text" ? "" : value["unit"]}`.trim(),
  "reading.instrument": (value, { catalogue }) => titleIn(catalogue.terms.instruments, value["kind"]),
  "photo.place": (place) => placeWords(String(place)),
  "photo.file": (file) => joined([`${file["width"]} × ${file["height"]} pixels`, `${Math.round(file["bytes"] / 1000)} kB`]),
  "recording.file": (file) => joined([`${(file["duration_ms"] / 1000).toFixed(1)} s`, `${Math.round(file["bytes"] / 1000)} kB`]),
  "spot.at": (at) => `${Math.round(100 * at["x"])} % from the left, ${Math.round(100 * at["y"])} % from the top`,
  "leak_reading.machine": (found) => machineWords(found as Parameters<typeof machineWords>[0]),
  "leak_reading.marks": (marks) => marksWords(marks as Parameters<typeof marksWords>[0]),
  "leak_reading.region": (corners) => regionWords(corners as unknown[]),
  "leak_reading.second": (second) => secondWords(second as Parameters<typeof secondWords>[0]),
  "take.intent": (value) => joined([speedWords(value["marked"].text), value["cold"] ? "cold" : "settled"]),
  "take.conditions": (value) => joined([value["stop"], value["attitude"], value["celsius"] != null && `${value["celsius"]} °C`]) || NOTHING,
  "mark.moved": (value) => `${(1000 * (value["close_s"] - value["open_s"])).toFixed(1)} ms apart`,
  "deal.decision": (value) => joined([value["bought"] ? "bought" : "passed", value["reason"], value["included"]?.length > 0 && `with ${value["included"].join(" and ")} in it`]),
  "deal.terms": (value) => joined([
    value["group"] && `group ${value["group"]}`,
    value["value"] && `worth ${span(value["value"], value["currency"])}`,
    value["resale"] && "to sell on",
    ...shares(value, ["premium", "tax", "fees"]),
    ...amounts(value, { freight: "freight", travel: "travel", margin: "margin" }),
  ]) || NOTHING,
  "money_habits.habits": (value) => joined([
    value["currency"], ...shares(value, ["premium", "tax", "fees"]), ...amounts(value, { margin: "margin", week: "a week without it" }),
    value["half_life_days"] != null && `prices count half after ${value["half_life_days"]} days`,
    value["rest_days"] !== undefined && `${value["rest_days"]} days of rest`,
  ]),
  "kit_item.kind": (id, { catalogue }) => titleIn(catalogue.terms.piece_kinds, String(id)),
  "kit_item.facts": (facts, { catalogue }) => joined(Object.entries(facts).map(([id, fact]) => fact !== null
    && `${titleIn(catalogue.measures, id) ?? id.replaceAll("_", " ")} ${typeof fact === "number" ? `${Math.round(100 * fact) / 100} mm` : titleIn(catalogue.formats, String(fact)) ?? String(fact)}`)) || NOTHING,
  "inquiry.asked": (value) => joined([`${value["questions"].length} ${value["questions"].length === 1 ? "question" : "questions"}`, `in ${languageWords(value["language"])}`, value["day"] && dayWords(value["day"])]),
  "inquiry.returns": (value) => joined([
    ALLOWED[value["allowed"]], value["days"] != null && `within ${value["days"]} days`, PAYS[value["pays"]], value["words"] && `“${value["words"]}”`, value["day"] && dayWords(value["day"]),
  ]),
  "inquiry.replies": (value) => Object.entries<Obj>(value).map(([id, reply]) => joined([`${id.replaceAll("_", " ")}: “${reply["words"]}”`, reply["day"] && dayWords(reply["day"])])).join("; ") || NOTHING,
  "remedy_cost.cost": (value) => span(value, value["currency"]),
  "remedy_cost.weeks": (value) => `${value["low"]} to ${value["high"]} weeks`,
  "dealing.outcome": (id, { catalogue }) => titleIn(catalogue.terms.dealing_outcomes, String(id)),
  "dealing.knew": (id, { catalogue }) => titleIn(catalogue.terms.knew, String(id)),
  "dealing.facets": (value, { catalogue }) => Object.entries(value).map(([id, word]) => `${titleIn(catalogue.terms.facets, id) ?? id}: ${String(word).replaceAll("_", " ")}`).join(", "),
  "repair.remedy": (id, { catalogue }) => titleIn(catalogue.remedies, String(id)),
};

/** By the value's own form, for every field without words of its own. */
function plainly(field: string, value: unknown, { catalogue, names }: WordsFrom): string {
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "number") return String(value);
  if (typeof value === "string") {
    if (ID.test(value)) return names.get(value) ?? "another one";
    if (DAY.test(value)) return dayWords(value);
    if (field === "check") return titleIn(catalogue.checks, value) ?? value;
    if (field === "venue_kind") return titleIn(catalogue.terms.venue_kinds, value) ?? value;
    return field === "origin" || field === "by" || field === "pass" ? value.replaceAll("_", " ") : `“${value}”`;
  }
  if (Array.isArray(value)) return value.map((one) => plainly(field, one, { catalogue, names })).join(", ");
  const object = value as Obj;
  if (typeof object["minor"] === "number" && typeof object["currency"] === "string") return showMoney(object as unknown as Money);
  if (typeof object["text"] === "string" && "seconds" in object) return speedWords(object["text"]);
  if (typeof object["ms"] === "number") return momentWords(object["ms"]);
  return Object.entries(object).filter(([, part]) => part !== null && part !== "")
    .map(([name, part]) => `${name.replaceAll("_", " ")}: ${plainly(name, part, { catalogue, names })}`).join(", ");
}
