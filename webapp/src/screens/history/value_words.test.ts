// Values in plain words, also of a newer app's fields (wording: own; money and days as everywhere in the app).
import { expect, it } from "vitest";
import { loadCatalogue } from "../../domain/catalogue.ts";
import { fieldTitle } from "./field_words.ts";
import { valueWords } from "./value_words.ts";

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
  ["piece", "weather_later", { kept: ["as", "it"] }, "kept: “as”, “it”"],
  ["piece", "speeds", { of: "a later form" }, "something this version cannot show"],
])("%s, %s: %j", (kind, field, value, words) => expect(valueWords(kind, field, value, from)).toBe(words));

it("has a name for every field that people edit, and one made of the word for any other", () => {
  expect([fieldTitle("visit", "asking"), fieldTitle("piece", "weather_later")]).toEqual(["Asking price of this piece", "Weather later"]);
});
