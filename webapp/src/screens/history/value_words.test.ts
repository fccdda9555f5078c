// Values in plain words, also of a newer app's fields (wording: own; money and days as everywhere in the app).
import { expect, it } from "vitest";
import { loadCatalogue } from "../../domain/catalogue.ts";
import { fieldTitle } from "./field_words.ts";
import { dayWords } from "../visit/words.ts";
import { valueWords } from "./value_words.ts";

/** As the phone's own language writes it. */
const DAY = dayWords("2026-10-20");

const catalogue = await loadCatalogue();
const from = { catalogue, names: new Map([["a".repeat(32), "Upper barn"]]), check: "camera.bellows.light" };

it.each([
  ["answer", "result", { outcome: "cannot_tell", faults: [], good_up_to: { text: "1/50", seconds: 0.02 } }, "Cannot tell, good up to 1/50"],
  ["answer", "result", null, "nothing"],
  ["answer", "remark", "Pinholes", "“Pinholes”"],
  ["visit", "asking", { minor: 12_050, currency: "EUR" }, "120.50\u00a0EUR"],
  ["visit", "session", "a".repeat(32), "Upper barn"],
  ["visit", "session", "b".repeat(32), "another one"],
  ["reading", "typed", { text: "1 1/4", unit: "in" }, "1 1/4 in"],
  ["piece", "holders", { count: 2, numbers: ["1", "7"], build: "wood" }, "2 holders, numbered 1 7, wood"],
  ["piece", "screen_stack", [{ surface: "fresnel" }, { surface: "ground_glass" }], "Ringed sheet (fresnel), then Ground glass"],
  ["photo", "left_out", true, "yes"],
  ["deal", "terms", { currency: "EUR", value: { low_minor: 100, likely_minor: 250, high_minor: 300 }, premium: 0.075, freight_minor: 0 }, "worth 2.50\u00a0EUR (1\u00a0EUR to 3\u00a0EUR), premium 7.5 %, freight 0\u00a0EUR"],
  ["deal", "decision", { bought: true, included: ["premium", "tax"] }, "bought, with premium and tax in it"],
  ["remedy_cost", "cost", { currency: "EUR", low_minor: 100, likely_minor: 250, high_minor: 300 }, "2.50\u00a0EUR (1\u00a0EUR to 3\u00a0EUR)"],
  ["leak_reading", "machine", { usable: true, reasons: [], points: [{ strength: 31 }, { strength: 19 }, { strength: 18 }] }, "3 bright places: 1 strong, 2 clear"],
  ["leak_reading", "machine", { usable: false, reasons: ["black"], points: [] }, "no bright place. The photo is black: nothing in it is bright enough to judge. Use a brighter lamp inside, or a longer exposure."],
  ["leak_reading", "marks", [{ of: 0, at: { x: 0.1, y: 0.1 }, said: "confirmed" }, { of: 1, at: { x: 0.5, y: 0.5 }, said: "struck_out" }, { of: null, at: { x: 0.9, y: 0.9 }, said: "added" }], "top left: light; in the middle: no light; bottom right: added by hand"],
  ["leak_reading", "marks", [0, 1, 2, 3, 4].map((of) => ({ of, at: { x: 0, y: 0 }, said: of ? "confirmed" : "struck_out" })), "1 no light, 4 light"],
  ["leak_reading", "second", { photo: "b".repeat(32), how: "lamp_off", machine: { reasons: [], points: [] } }, "lamp off; no bright place"],
  ["leak_reading", "region", [{ x: 0, y: 0 }, { x: 1, y: 0 }, { x: 1, y: 1 }], "drawn by hand, 3 corners"],
  ["leak_reading", "region", null, "all of it"],
  ["inquiry", "asked", { language: "de", questions: ["lamp_in_bellows", "send_back"], day: "2026-10-20" }, `2 questions, in ${new Intl.DisplayNames(undefined, { type: "language" }).of("de")}, ${DAY}`],
  ["inquiry", "returns", { allowed: "yes", days: 14, pays: "buyer", words: "You pay.", day: "2026-10-20" }, `allowed, within 14 days, the buyer pays the way, “You pay.”, ${DAY}`],
  ["inquiry", "replies", { send_back: { words: "Yes.", day: "2026-10-20" }, push_test: { words: "Firm." } }, `send back: “Yes.”, ${DAY}; push test: “Firm.”`],
  ["film_test", "setup", { holder: "3", speed: { text: "1/50", seconds: 0.02 }, stop: "f/16" }, "holder: “3”, speed: 1/50, stop: “f/16”"],
  ["money_habits", "habits", { currency: "EUR", premium: 0.2, week_minor: 1500, half_life_days: 730, rest_days: 3 }, "EUR, premium 20 %, a week without it 15\u00a0EUR, prices count half after 730 days, 3 days of rest"],
  ["kit_item", "facts", { focal_mm: 210, format: "4x5", circle_mm: null }, "Focal length 210 mm, Format 4 × 5 in"],
  ["piece", "weather_later", { kept: ["as", "it"] }, "kept: “as”, “it”"],
  ["piece", "speeds", { of: "a later form" }, "something this version cannot show"],
])("%s, %s: %j", (kind, field, value, words) => expect(valueWords(kind, field, value, from)).toBe(words));

it("has a name for every field that people edit, and one made of the word for any other", () => {
  expect([fieldTitle("visit", "asking"), fieldTitle("piece", "weather_later")]).toEqual(["Asking price of this piece", "Weather later"]);
});
