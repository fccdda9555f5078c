// The letter to a distant seller (wording: own; the numbers are what a pasted reply is shared out by).
import { expect, it } from "vitest";
import { loadQuestions } from "../../domain/catalogue.ts";
import { splitReply } from "../../domain/inquiry.ts";
import { firstChoice, letterText, ownLanguage } from "./letter.ts";

const data = await loadQuestions();

it("numbers the questions in the seller's language, with the buyer's own beneath when wanted", () => {
  const german = letterText(["send_back", "work_done"], "de", "en", data);
  expect(german).toContain("\n\n1. Falls es von Ihrer Beschreibung abweicht");
  expect(german).toContain("\n   (If it differs from your description");
  expect(german).toContain("\n\n2. Hat jemand etwas geölt");
  expect(letterText(["send_back"], "de", null, data)).not.toContain("differs");
  expect(letterText(["send_back"], "en", "en", data).match(/differs/g)).toHaveLength(1);
});

it("is read back by its numbers when it comes quoted", () => {
  const quoted = letterText(["send_back", "work_done"], "fr", null, data).split("\n").map((line) => `> ${line}`);
  const second = quoted.findIndex((line) => line.startsWith("> 2."));
  const reply = ["Bonjour", ...quoted.slice(0, second), "oui, 14 jours", ...quoted.slice(second), "personne"].join("\n");
  expect(splitReply(reply, 2)).toEqual([{ number: null, words: "Bonjour" }, { number: 1, words: "oui, 14 jours" }, { number: 2, words: "personne" }]);
});

it("takes the phone's language only if the questions stand in it", () => {
  expect(["de-AT", "ja", "nl", ""].map((one) => ownLanguage(data, one))).toEqual(["de", "ja", "en", "en"]);
});

it("ticks the key questions first and keeps the list short, in its order", () => {
  const rows = ["a", "b", "c", "d", "e"].map((question) => ({ question, key: question === "e" }));
  expect(firstChoice(rows, 3)).toEqual(["a", "b", "e"]);
});
