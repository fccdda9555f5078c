// Typing over a book that is slow to keep: figures go where they belong, and back the way they came.
import { expect, test, vi } from "vitest";
import type { DepthBook, Typed } from "./depth_book.ts";
import { Depths } from "./use_depths.ts";

const ORDER = ["holder=1;point=middle;side=a", "holder=1;point=top_left;side=a", "holder=1;point=middle;side=b"];
const at = (text: string): Typed => ({ text, unit: "mm", tool: "caliper" });

/** Saves go one after the other, a moment each. */
const settled = () => new Promise((done) => setTimeout(done));

function typing() {
  const kept: [string, string | null][] = [];
  const book: DepthBook = { order: ORDER, typed: new Map(), format: "4x5", holders: null, keep: (place, one) => { kept.push([place, one?.text ?? null]); return Promise.resolve(); } };
  return { depths: new Depths(book, () => undefined), kept };
}

test("figures typed before anything is drawn go to the points in order", async () => {
  const { depths, kept } = typing();
  ["5.00", "5.01", "5.02", "5.03"].forEach((text) => depths.put(at(text)));
  await settled();
  expect(kept).toEqual([[ORDER[0], "5.00"], [ORDER[1], "5.01"], [ORDER[2], "5.02"]]);
  expect(depths.at).toBeNull();
});

test("each step can be taken back, to what stood there before", async () => {
  const { depths, kept } = typing();
  depths.put(at("5.00"));
  depths.put(at("5.01"));
  depths.go(ORDER[0]!);
  depths.put(at("4.99"));
  expect(depths.at).toBe(ORDER[2]);
  depths.undo();
  expect([depths.at, depths.typed.get(ORDER[0]!)?.text]).toEqual([ORDER[0], "5.00"]);
  depths.undo();
  expect([depths.at, depths.typed.has(ORDER[1]!)]).toEqual([ORDER[1], false]);
  await settled();
  expect(kept.at(-1)).toEqual([ORDER[1], null]);
});

test("a set that grows asks for its new points, one that shrinks for none that are gone", () => {
  const { depths } = typing();
  const small = { ...depths.book, order: ORDER.slice(0, 2) };
  depths.book = small;
  ["5.00", "5.01"].forEach((text) => depths.put(at(text)));
  expect(depths.at).toBeNull();
  depths.book = { ...small, order: ORDER };
  expect(depths.at).toBe(ORDER[2]);
  depths.go(ORDER[2]!);
  depths.book = small;
  expect(depths.at).toBeNull();
});

test("a figure taken back and typed anew is kept last, however slow the keeping is", async () => {
  const kept: (string | null)[] = [];
  let slow = 30;
  const keep = async (_: string, one: Typed | null) => {
    await new Promise((done) => setTimeout(done, (slow -= 10)));
    kept.push(one?.text ?? null);
  };
  const depths = new Depths({ order: ORDER.slice(0, 1), typed: new Map(), format: "4x5", holders: null, keep }, () => undefined);
  depths.put(at("5.00"));
  depths.undo();
  depths.put(at("5.01"));
  await vi.waitFor(() => expect(kept).toEqual(["5.00", null, "5.01"]), { timeout: 30_000 });
});
