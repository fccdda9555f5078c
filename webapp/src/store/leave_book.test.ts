// A book may only be left behind when nothing of it is on this phone alone.
import "fake-indexeddb/auto";
import { expect, it } from "vitest";
import { leaveBook, onlyHere } from "./leave_book.ts";
import { openStore } from "./store.ts";

it("keeps everything while an edit waits, and empties the pages once all is sent", async () => {
  const store = await openStore("leave");
  const id = await store.create("session", { title: "Barn" });
  const device = await store.meta.get("device");
  expect(await onlyHere(store)).toBe(1);
  await expect(leaveBook(store)).rejects.toBeInstanceOf(RangeError);
  expect((await store.get(id))?.values["title"]).toBe("Barn");

  const [change] = await store.history(id);
  await store.out.settle([{ id: change!.id, result: "ok", number: 1 }]);
  await store.meta.set("report_copies", [{ about: id, publication: "p".repeat(32), version: 1, title: "Barn", files: [] }]);
  await leaveBook(store);
  expect(await store.meta.get("report_copies")).toBeUndefined();
  expect(await store.byKind("session")).toEqual([]);
  expect(await store.history(id)).toEqual([]);
  expect(await store.meta.get("device")).toBe(device);
  const next = await store.create("session", { title: "Own" });
  expect((await store.history(next))[0]!.stamp > change!.stamp).toBe(true);
});
