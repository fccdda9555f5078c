// What is told when something was not saved (the wording: own).
import { expect, it } from "vitest";
import { failureWords } from "./tell_failure.ts";

it.each([
  [new RangeError("This recording holds no sound: record again."), "Not saved: This recording holds no sound: record again. Try again."],
  [new RangeError("Type a number"), "Not saved: Type a number. Try again."],
  [null, "Not saved: the phone refused. Try again."],
  [Object.assign(new Error("x"), { code: "quota" }), "Not saved: the phone's storage is full. Free some room, then try again."],
])("%s", (error, words) => expect(failureWords(error)).toBe(words));
