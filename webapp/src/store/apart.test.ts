// Versions of a field: shown with who said them first, picked, and opened again (rule: sync/README.md, One value from many changes).
import "fake-indexeddb/auto";
import { afterEach, expect, it } from "vitest";
import { apartFields } from "./apart.ts";
import { openStore, type Change, type Store } from "./store.ts";

const open: Store[] = [];
afterEach(() => { for (const store of open.splice(0)) store.close(); });

it("asks once for each field, is settled by a pick even when two said the same, and stands open again after the way back", async () => {
  const store = await openStore("apart", () => 1_780_000_000_000);
  open.push(store);
  await store.meta.set("author", "Orla");
  const id = await store.create("piece", { title: "mine", note: "agreed" });
  const mine = (await store.fieldHistory(id, "title"))[0]!;
  const theirs = (at: number): Change => ({ ...mine, id: String(at).repeat(32), value: "theirs", author: "Tamsin", device: String(at).repeat(32), stamp: `00178000000000${at}.000000.${String(at).repeat(32)}`, base: null });
  await store.out.takePage({ epoch: "e", next: 2, changes: [{ ...theirs(1), number: 1 }, { ...theirs(2), number: 2 }] });

  const asked = async () => apartFields(await store.history(id)).map(({ field, versions }) => [field, ...versions.map(({ said }) => `${said.value} by ${said.author}`)]);
  const before = await asked();
  expect(before).toEqual([["title", "theirs by Tamsin", "mine by Orla"]]);
  await store.meta.set("author", "Somebody else");
  const back = await store.pick(id, "title", mine);
  expect([await asked(), (await store.get(id))?.values["title"]]).toEqual([[], "mine"]);
  await back();
  expect([await asked(), (await store.get(id))?.values["title"]]).toEqual([before, "theirs"]);
  expect((await store.history(id)).length).toBe(7);
});
