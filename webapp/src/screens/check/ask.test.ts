// What is asked after a tap (handbook section 3: a faulty answer names its fault, not checked its reason).
import { expect, it } from "vitest";
import type { Fault } from "../../domain/catalogue.ts";
import { afterTap } from "./ask.ts";

const fault = (id: string): Fault => ({ id, title: id, picture: "stops", price: "high", remedy: null, effect_words: "" });
const ONE = { faults: [fault("torn")], good_up_to: false };
const TWO = { faults: [fault("torn"), fault("stiff")], good_up_to: false };

it("keeps the quick answers at once", () => {
  expect(afterTap("in_order", TWO, false)).toEqual({ outcome: "in_order" });
  expect(afterTap("worn", TWO, false)).toEqual({ outcome: "worn" });
  expect(afterTap("cannot_tell", TWO, false)).toEqual({ outcome: "cannot_tell" });
});

it("asks which fault only when there is a choice", () => {
  expect(afterTap("faulty", ONE, false)).toEqual({ outcome: "faulty", faults: ["torn"] });
  expect(afterTap("faulty", TWO, false)).toEqual({ ask: "faults" });
});

it("asks how far it is good only where a check has a range", () => {
  expect(afterTap("cannot_tell", { ...ONE, good_up_to: true }, false)).toEqual({ ask: "up_to" });
});

it("always asks why something was not checked", () => {
  expect(afterTap("not_checked", ONE, false)).toEqual({ ask: "reason" });
});

it("turns every outcome into a claim when somebody else says so", () => {
  expect(afterTap("in_order", ONE, true)).toEqual({ ask: "claim", outcome: "in_order" });
});
