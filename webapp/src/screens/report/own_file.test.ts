// The phone's own report: made from its book alone, with nothing private in it, saying what it lacks.
import "fake-indexeddb/auto";
import { afterEach, expect, it } from "vitest";
import { answerId, reportNumber } from "../../domain/ids.ts";
import { openStore, type Store } from "../../store/store.ts";
import { makeOwnFile, type Means } from "./own_file.ts";

const AT = { ms: 1_780_000_000_000, offset_min: 120 };
const MEANS: Means = { smaller: async () => new TextEncoder().encode("smaller").buffer as ArrayBuffer, measure: async () => null };
const HAZE = "lens.glass.haze";
let store: Store;
let turn = 0;
afterEach(() => store.close());

async function lens() {
  store = await openStore(`own-file-${turn += 1}`, () => AT.ms);
  const session = await store.create("session", { title: "Secret title", place: "Secret place", day: "2026-05-02", venue_kind: "fair", began: AT, asking: { minor: 77_777, currency: "EUR" } });
  const piece = await store.create("piece", { kind: "lens", type: "in_shutter", title: "Lens <of> nobody", note: "Secret note" });
  const visit = await store.create("visit", { session, piece, occasion: "sale", tag: "A", began: AT, note: "Secret visit" });
  await store.create("answer", { visit, check: HAZE, place: "", result: { outcome: "faulty", faults: ["inside"], at: AT } }, answerId(visit, HAZE, ""));
  const { hash } = await store.putMedia(new TextEncoder().encode("a photo").buffer as ArrayBuffer, "image/jpeg");
  const file = (name: string) => ({ hash: name, type: "image/jpeg", bytes: 7, width: 64, height: 48 });
  await store.create("photo", { visit, check: HAZE, place: "", file: file(hash), taken: AT, origin: "camera", caption: "Here", left_out: false });
  await store.create("photo", { visit, check: HAZE, place: "", file: file("e".repeat(64)), taken: AT, origin: "camera", caption: "On another phone", left_out: false });
  return { session, piece };
}

it("holds what was seen, its photos, and the word of each that is elsewhere", async () => {
  const { piece } = await lens();
  const shares: number[] = [];
  const { name, html, missing } = await makeOwnFile(store, { piece }, [], (share) => shares.push(share), new AbortController().signal, MEANS);
  expect(name).toBe(`condition-report-${reportNumber(piece)}.html`);
  expect(html).toContain("Lens &lt;of&gt; nobody");
  expect(html).toContain(`data:image/jpeg;base64,${btoa("smaller")}`);
  expect(html).toContain("is still on the phone that took it");
  expect(html).toContain("made on the phone alone");
  expect(html).not.toMatch(/<script|Secret|777/);
  expect(html).not.toMatch(/(src|href)="(?!#|data:)/);
  expect([missing, shares.at(-1)]).toEqual([1, 1]);
});

it("tells of a session without its title, place or price", async () => {
  const { session } = await lens();
  const { html } = await makeOwnFile(store, { session }, [], () => undefined, new AbortController().signal, MEANS);
  expect(html).toContain("Looked at on 2 May 2026");
  expect(html).not.toMatch(/Secret|777/);
});

it("can be stopped, and says when there is nothing to tell", async () => {
  const { piece } = await lens();
  const stop = new AbortController();
  await expect(makeOwnFile(store, { piece }, [], () => stop.abort(), stop.signal, MEANS)).rejects.toThrow(/abort/i);
  const unseen = await store.create("piece", { kind: "camera" });
  await expect(makeOwnFile(store, { piece: unseen }, [], () => undefined, new AbortController().signal, MEANS)).rejects.toThrow("Nothing has been looked at yet");
});
