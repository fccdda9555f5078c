// Room: bytes leave the phone only after the server's word, and come back whole (rules: sync/README.md, Media).
import "fake-indexeddb/auto";
import { afterEach, expect, it } from "vitest";
import { letGo } from "./let_go.ts";
import { openStore, type Store } from "../../store/store.ts";

let turn = 0;
const open: Store[] = [];
const fresh = async (): Promise<Store> => {
  open.push(await openStore(`room-${turn += 1}`));
  return open.at(-1)!;
};
afterEach(() => { for (const store of open.splice(0)) store.close(); });
const put = async (store: Store, words: string): Promise<string> => (await store.putMedia(new TextEncoder().encode(words).buffer as ArrayBuffer, "image/jpeg")).hash;

it("lets go of nothing that the server has not confirmed, or that waits to be sent again", async () => {
  const store = await fresh();
  const [waiting, sent, again] = [await put(store, "waiting"), await put(store, "sent"), await put(store, "again")];
  await store.media.confirm(sent);
  await store.media.confirm(again);
  await store.media.doubt([again]);
  expect((await store.media.held()).filter((one) => one.safe).map((one) => one.hash)).toEqual([sent]);
  expect(await store.media.letGo([waiting, sent, again])).toEqual([sent]);
  expect([await store.mediaState(waiting), await store.mediaState(sent), await store.mediaState(again)]).toEqual(["here", "elsewhere", "here"]);
});

it("asks the server once more, and queues what it turns out not to have", async () => {
  const store = await fresh();
  const [there, lost] = [await put(store, "there"), await put(store, "lost")];
  for (const hash of [there, lost]) await store.media.confirm(hash);
  expect(await letGo(store, [there, lost], async () => new Set([there]))).toEqual([there]);
  expect([await store.mediaState(lost), await store.media.waiting()]).toEqual(["here", [lost]]);
});

it("shows what was let go from the server without keeping it, until it is brought back", async () => {
  const store = await fresh();
  const hash = await put(store, "picture");
  const kept = (await store.getMedia(hash))!;
  await store.media.confirm(hash);
  await letGo(store, [hash], async () => null);
  expect(await store.media.find(hash)).toBe("no_server");
  store.media.fetcher = async () => "no_signal";
  expect([await store.media.find(hash), await store.media.bringBack(hash)]).toEqual(["no_signal", false]);
  store.media.fetcher = async () => kept;
  expect([await store.getMedia(hash), await store.mediaState(hash)]).toEqual([kept, "elsewhere"]);
  expect([await store.media.bringBack(hash), await store.mediaState(hash)]).toEqual([true, "confirmed"]);
  expect(await store.meta.get("let_go")).toEqual([]);
});
