// A history's entries: together what one hand did at once, apart what was said without knowing (rules: own).
import { expect, it } from "vitest";
import type { Change } from "../../store/store.ts";
import { entriesOf } from "./entries.ts";

const A = "a".repeat(32);
let made = 0;
function change(field: string, value: unknown, ms: number, more: Partial<Change> = {}): Change {
  made += 1;
  const device = more.device ?? A;
  return { id: `c${made}`, space: "s", kind: "answer", record: "r", field, value, stamp: `${String(ms).padStart(15, "0")}.000000.${device}`, base: null, settles: [], device, author: "Orla", schema: 1, ...more };
}

it("puts the fields of one tap into one entry, without saying where the record belongs", () => {
  const [entry, ...more] = entriesOf({ changes: [change("visit", "v", 1000), change("check", "c", 1000), change("result", { outcome: "worn" }, 1001)] });
  expect(more).toEqual([]);
  expect([entry!.began, entry!.lines.map((line) => line.field)]).toEqual([true, ["result"]]);
});

it("shows words typed with pauses as one line, and an answer changed at once as two", () => {
  const [first, second] = [change("remark", "Pin", 1000), change("remark", "Pinhole", 2500)];
  const typed = entriesOf({ changes: [first, { ...second, base: first.id }] });
  expect(typed.map((entry) => entry.lines.map((line) => line.value))).toEqual([["Pinhole"]]);
  const [worn, faulty] = [change("result", { outcome: "worn" }, 1000), change("result", { outcome: "faulty" }, 1500)];
  const answered = entriesOf({ changes: [worn, { ...faulty, base: worn.id }] });
  expect(answered.map((entry) => [(entry.lines[0]!.value as any).outcome, (entry.lines[0]!.base?.value as any)?.outcome])).toEqual([["faulty", "worn"], ["worn", undefined]]);
});

it("shows words that were written over at once, not only what stands there last", () => {
  const [first, second] = [change("remark", "Pinholes", 1000), change("remark", "Sound", 2500)];
  const entries = entriesOf({ changes: [first, { ...second, base: first.id }] });
  expect(entries.map((entry) => [entry.lines[0]!.value, entry.lines[0]!.base?.value])).toEqual([["Sound", "Pinholes"], ["Pinholes", undefined]]);
});

it("marks what was said without knowing of the value before, and what a person picked", () => {
  const mine = change("remark", "mine", 1000);
  const theirs = change("remark", "theirs", 2000, { device: "b".repeat(32), author: "Tamsin" });
  const pick = change("remark", "mine", 3000, { base: theirs.id, settles: [mine.id, theirs.id] });
  const [newest, apart] = entriesOf({ changes: [mine, theirs, pick] });
  expect(apart!.lines[0]!.apart?.value).toBe("mine");
  expect([newest!.lines[0]!.picked, newest!.lines[0]!.apart]).toEqual([2, undefined]);
});
