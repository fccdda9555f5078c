// Words of the kit: counts, facts, and that every kind has something to ask.
import { expect, test } from "vitest";
import { loadCatalogue } from "../../domain/catalogue.ts";
import { askedOf, choicesOf, countWords, factWords, KINDS } from "./kit_words.ts";

const catalogue = await loadCatalogue();

test("only what there is is counted", () => {
  expect(countWords([{ verdict: "fits" }, { verdict: "fits_if" }, { verdict: "fits_if" }])).toBe("1 fits, 2 fits if");
  expect(countWords([])).toBe("");
});

test("facts are said in the person's unit and words", () => {
  expect(factWords("lens", { focal_mm: 210, circle_mm: 300, shutter_size: "1" }, catalogue, "mm")).toBe("Focal length 210 mm, Image circle 300 mm, Size of shutter 1");
  expect(factWords("camera", { format: "4x5", shortest_mm: null }, catalogue, "in")).toBe("Format 4 × 5 in");
});

test("every kind asks for something, and every list has choices", () => {
  for (const { id } of KINDS) {
    const asked = askedOf(id, catalogue);
    expect(asked.length).toBeGreaterThan(2);
    for (const one of asked.filter(({ unit }) => unit === "term")) expect(choicesOf(one, catalogue).length).toBeGreaterThan(1);
  }
});
