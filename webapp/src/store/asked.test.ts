// An answer that was asked for in another book, or from another place in it, must not move this one.
import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import { openStore } from "./store.ts";

const [first, second] = ["a".repeat(32), "b".repeat(32)];

it("drops a page of the new book that was asked for by the old book's number", async () => {
  const store = await openStore("asked-page");
  await store.out.join(first, "First", "e1");
  await store.out.takePage({ epoch: "e1", next: 40, changes: [] }, { after: 0, space: first });
  await store.out.join(second, "Second", "e2");
  await store.out.takePage({ epoch: "e2", next: 55, changes: [] }, { after: 40, space: first });
  await store.out.takePage({ epoch: "e2", next: 55, changes: [] }, { after: 40, space: second });
  expect(await store.meta.get("cursor")).toBe(0);
  await store.out.takePage({ epoch: "e2", next: 3, changes: [] }, { after: 0, space: second });
  expect(await store.meta.get("cursor")).toBe(3);
});

it("keeps an edit in the queue that the book left meanwhile had taken", async () => {
  const store = await openStore("asked-settle");
  await store.out.join(first, "First", "e1");
  const id = await store.create("session", { title: "Barn" });
  const { hash } = await store.putMedia(new Uint8Array([1, 2, 3]).buffer, "image/jpeg");
  const [change] = await store.history(id);
  await store.out.join(second, "Second", "e2");
  await store.out.settle([{ id: change!.id, result: "ok", number: 1 }], first);
  await store.media.confirm(hash, first);
  expect(await store.out.counts()).toMatchObject({ changes: 1, media: 1 });
  await store.out.settle([{ id: change!.id, result: "ok", number: 1 }], second);
  await store.media.confirm(hash, second);
  expect(await store.out.counts()).toMatchObject({ changes: 0, media: 0 });
});

it("hears a stamp that the server gave anew, so that the next edit does not lose to it", async () => {
  const store = await openStore("asked-stamp", () => 1_780_000_000_000);
  const id = await store.create("session", { title: "one" });
  const [change] = await store.history(id);
  const anew = change!.stamp.replace(/^\d{15}/, "001780000050000");
  await store.out.settle([{ id: change!.id, result: "ok", number: 1, stamp: anew }]);
  await store.set("session", id, { title: "two" });
  expect((await store.get(id))?.values["title"]).toBe("two");
  expect((await store.history(id)).at(-1)!.stamp > anew).toBe(true);
});
