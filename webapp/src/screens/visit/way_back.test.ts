// Back from a photo or the recorder leads to the step it was called up from (rule: own).
import { expect, it } from "vitest";
import { stepOf } from "./way_back.ts";

it.each([
  [{ path: "/visit/0a", query: {} }, "#/visit/0a"],
  [{ path: "/visit/0a/pass/short", query: { at: "lens.glass.haze", place: "speed=1/8" } }, "#/visit/0a/pass/short?at=lens.glass.haze&place=speed%3D1%2F8"],
  [{ path: "/visit/0a/after", query: {} }, "#/visit/0a/after"],
  [{ path: "/visit/0a/check/lens.glass.haze", query: {} }, "#/visit/0a/check/lens.glass.haze"],
])("%j is a step of the piece", (before, hash) => expect(stepOf(before, "0a")).toBe(hash));

it.each([null, { path: "/", query: {} }, { path: "/visit/0b", query: {} }, { path: "/visit/0a/photo/1", query: {} }, { path: "/session/0a", query: {} }])("%j is none", (before) => {
  expect(stepOf(before, "0a")).toBeNull();
});
