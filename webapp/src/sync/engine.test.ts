// The engine against a server in memory: nothing accepted is lost, nothing is sent for good before its answer, whatever the line does.
// The promises are those of backend/barnlight/sync/README.md, "What a client may rely on".
import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { openStore, type Store } from "../store/store.ts";
import { FakeServer } from "./testing/fake_server.ts";

const NOW_MS = 1_780_000_000_000;
let server: FakeServer;
let turn = 0;
const open: Store[] = [];

beforeEach(() => {
  server = new FakeServer();
  vi.stubGlobal("fetch", server.fetch);
  vi.stubGlobal("navigator", {});
  vi.stubGlobal("addEventListener", () => undefined);
  vi.stubGlobal("document", { addEventListener: () => undefined, visibilityState: "visible" });
  vi.spyOn(console, "error").mockImplementation(() => undefined);
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
  for (const store of open.splice(0)) store.close();
});

interface Phone { store: Store; round: () => Promise<string>; status: { subscribe: (hear: (now: { words: string }) => void) => () => void } }

/** A phone whose engine runs only when told to. */
async function phone(paired = true): Promise<Phone> {
  vi.resetModules();
  const store = await openStore(`sync-${turn += 1}`, () => NOW_MS + turn);
  open.push(store);
  if (paired) await store.meta.set("paired", { server: "http://localhost", device_name: "phone" });
  const { startSync, syncNow, status } = await import("./engine.ts");
  let begun = false;
  const round = async () => {
    const states: string[] = [];
    await store.out.counts(); // what the last save changed in the line stands there
    const stop = status.subscribe(({ state }) => { states.push(state); });
    states.length = 0;
    if (begun) syncNow();
    else startSync(store);
    begun = true;
    await vi.waitFor(() => { if (states.length === 0 || states.at(-1) === "sending") throw new Error("still at it"); }, { timeout: 30_000, interval: 5 });
    stop();
    return states.at(-1)!;
  };
  return { store, round, status };
}

const values = async ({ store }: Phone, id: string) => (await store.get(id))?.values;
const bytes = (text: string) => new TextEncoder().encode(text).buffer as ArrayBuffer;

it("does nothing without a pairing, and says so", async () => {
  const alone = await phone(false);
  await alone.store.create("piece", { title: "a" });
  expect(await alone.round()).toBe("alone");
  expect(server.asked).toEqual([]);
});

it("says of an edit that it waits, before it is sent", async () => {
  const one = await phone();
  await one.round();
  const said: string[] = [];
  const stop = one.status.subscribe(({ words }) => { if (words !== said.at(-1)) said.push(words); });
  await one.store.create("piece", { title: "a" });
  await vi.waitFor(() => expect(said.slice(1)).toContain("All of it is on the server"), { timeout: 30_000 });
  stop();
  expect(said.slice(0, 3)).toEqual(["All of it is on the server", "1 edit still to send", "Sending 1 edit"]);
});

it("brings edits of two phones together, each change once in every history", async () => {
  const [first, second] = [await phone(), await phone()];
  const id = await first.store.create("piece", { title: "a", note: "n" });
  expect(await first.round()).toBe("idle");
  await second.round();
  await second.store.set("piece", id, { title: "b" });
  await second.round();
  await first.round();
  expect(await values(first, id)).toEqual({ title: "b", note: "n" });
  expect(await values(second, id)).toEqual(await values(first, id));
  expect((await first.store.history(id)).map((one) => one.id).sort()).toEqual((await second.store.history(id)).map((one) => one.id).sort());
  expect((await first.store.out.counts()).changes).toBe(0);
  expect(await first.store.meta.get("unsaved_since")).toBeUndefined();
});

it("keeps every edit while the answer is lost, and the server has it once", async () => {
  const one = await phone();
  await one.store.create("piece", { title: "a" });
  server.losesAnswers = 1;
  expect(await one.round()).toBe("offline");
  expect((await one.store.out.counts()).changes).toBe(1);
  expect(await one.round()).toBe("idle");
  expect(server.changes.length).toBe(1);
  expect((await one.store.out.counts()).changes).toBe(0);
});

it("sends more than one batch, and pulls more than one page", async () => {
  const [first, second] = [await phone(), await phone()];
  for (let count = 0; count < 70; count += 1) await first.store.create("price_note", Object.fromEntries("abcdefgh".split("").map((field) => [field, count])));
  await first.round();
  expect(server.changes.length).toBe(560);
  await second.round();
  expect((await second.store.byKind("price_note")).length).toBe(70);
  expect(await second.store.meta.get("cursor")).toBe(560);
});

it("keeps a refused edit with its reason, and the rest of the batch goes on", async () => {
  const one = await phone();
  server.refuses = (change) => (change.field === "note" ? "Too long." : null);
  const id = await one.store.create("piece", { title: "a", note: "b" });
  expect(await one.round()).toBe("idle");
  expect(server.changes.map((change) => change.field)).toEqual(["title"]);
  expect((await one.store.out.refusals()).map(({ change, message }) => [change.field, message])).toEqual([["note", "Too long."]]);
  expect(await values(one, id)).toEqual({ title: "a", note: "b" });
});

it("takes over the server's stamp for an edit from a clock that runs ahead", async () => {
  const one = await phone();
  const id = await one.store.create("piece", { title: "a" });
  server.restamp = (await one.store.history(id))[0]!.stamp.replace(/^\d{15}/, "001779999999999");
  await one.round();
  expect((await one.store.get(id))?.fields["title"]?.stamp).toBe(server.restamp);
});

it("stops at a pairing that was ended, and loses nothing", async () => {
  const one = await phone();
  server.revoked = true;
  const id = await one.store.create("piece", { title: "a" });
  expect(await one.round()).toBe("paused");
  expect(await values(one, id)).toEqual({ title: "a" });
  expect((await one.store.out.counts()).changes).toBe(1);
  server.revoked = false;
  expect(await one.round()).toBe("idle");
});

it("offers everything again to a server that came back from a backup", async () => {
  const [first, second] = [await phone(), await phone()];
  const id = await first.store.create("piece", { title: "a" });
  const { hash } = await first.store.putMedia(bytes("picture"), "image/jpeg");
  await first.round();
  await second.round();
  await first.store.set("piece", id, { title: "b" });
  await first.round();
  server.changes = server.changes.slice(0, 1);
  server.media.clear();
  server.epoch = "second";
  await first.round();
  expect(server.changes.map((change) => change.value)).toEqual(["a", "b"]);
  expect([...server.media.keys()]).toEqual([hash]);
  await second.round();
  expect(await values(second, id)).toEqual({ title: "b" });
});

it("sends a photo after its changes, frees it for no other word than the server's, and fetches it on another phone", async () => {
  const [first, second] = [await phone(), await phone()];
  const { hash } = await first.store.putMedia(bytes("picture"), "image/jpeg");
  await first.store.create("photo", { caption: "x" });
  server.losesAnswers = 1;
  await first.round();
  expect(await first.store.mediaState(hash)).toBe("here");
  await first.round();
  expect(await first.store.mediaState(hash)).toBe("confirmed");
  const [change, put] = [server.asked.indexOf("POST /api/changes"), server.asked.indexOf(`PUT /api/media/${hash}`)];
  expect(change >= 0 && put > change).toBe(true);
  await second.round();
  expect(await second.store.mediaState(hash)).toBe("elsewhere");
  expect(new TextDecoder().decode((await second.store.getMedia(hash))!.bytes)).toBe("picture");
  server.reachable = false;
  expect(await second.store.getMedia("0".repeat(64))).toBeNull();
});

it("keeps a photo the server will not have, and sends the others", async () => {
  const one = await phone();
  const bad = await one.store.putMedia(bytes("bad"), "image/jpeg");
  const good = await one.store.putMedia(bytes("good"), "image/jpeg");
  server.refusesMedia.add(bad.hash);
  expect(await one.round()).toBe("error");
  expect([...server.media.keys()]).toEqual([good.hash]);
  expect([await one.store.mediaState(bad.hash), await one.store.mediaState(good.hash)]).toEqual(["here", "confirmed"]);
});

it("has an edit that a person made while the server was asked", async () => {
  const one = await phone();
  const id = await one.store.create("piece", { title: "a" });
  const real = server.fetch;
  vi.stubGlobal("fetch", async (path: string, init?: RequestInit) => {
    const answer = await real(path, init);
    if (path === "/api/changes" && (await one.store.get(id))?.values["title"] === "a") await one.store.set("piece", id, { title: "b" });
    return answer;
  });
  await one.round();
  await one.round();
  expect(await values(one, id)).toEqual({ title: "b" });
  expect(server.changes.map((change) => change.value)).toEqual(["a", "b"]);
  expect((await one.store.out.counts()).changes).toBe(0);
});

it("drops what was erased, with all that waits of it, and keeps a photo that another record names", async () => {
  const [first, second] = [await phone(), await phone()];
  const [alone, shared] = [await first.store.putMedia(bytes("alone"), "image/jpeg"), await first.store.putMedia(bytes("shared"), "image/jpeg")];
  const gone = await first.store.create("photo", { file: alone });
  const goneToo = await first.store.create("photo", { file: shared });
  const stays = await first.store.create("photo", { file: shared });
  await first.round();
  await second.round();
  await second.store.set("photo", gone, { caption: "made while out of reach" });
  server.erase(gone, goneToo);
  expect(await first.round()).toBe("idle");
  expect(await second.round()).toBe("idle");
  for (const one of [first, second]) {
    expect((await one.store.byKind("photo")).map(({ id }) => id)).toEqual([stays]);
    expect(await one.store.history(gone)).toEqual([]);
    expect(await one.store.out.counts()).toEqual({ changes: 0, media: 0, refused: 0 });
  }
  expect([await first.store.mediaState(alone.hash), await first.store.mediaState(shared.hash)]).toEqual(["elsewhere", "confirmed"]);
  // A file saved before may bring it back to this phone, but the server's word takes it off again.
  await first.store.set("photo", gone, { caption: "again" });
  await first.round();
  expect(await first.store.get(gone)).toBeUndefined();
});

it("obeys no erasure that comes from a file, and offers no report of another server", async () => {
  const one = await phone();
  const id = await one.store.create("piece", { title: "a" });
  const [made] = await one.store.history(id);
  const forged = { ...made!, id: "e".repeat(32), record: "e".repeat(32), kind: "erasure", field: "records", value: [id] };
  expect(await one.store.out.takeFile([forged, { ...forged, id: "f".repeat(32), kind: "publication", field: "title", value: "Report" }])).toBe(0);
  expect(await values(one, id)).toEqual({ title: "a" });
  await one.round();
  expect(server.changes.map((change) => change.kind)).toEqual(["piece"]);
});

it("goes on with a photo where the line was cut, and sends no byte of it twice", async () => {
  const one = await phone();
  const photo = new Uint8Array(700 * 1024).map((_, at) => at % 251);
  const { hash } = await one.store.putMedia(photo.buffer, "image/jpeg");
  const real = server.fetch;
  let [pieces, sent] = [0, 0];
  vi.stubGlobal("fetch", async (path: string, init?: RequestInit) => {
    if (init?.method === "PUT") {
      pieces += 1;
      if (pieces === 3) throw new TypeError("the line broke");
      sent += (init.body as ArrayBuffer).byteLength;
    }
    return real(path, init);
  });
  expect(await one.round()).toBe("offline");
  expect(server.partials.get(hash)?.byteLength).toBe(512 * 1024);
  expect(await one.round()).toBe("idle");
  expect(Buffer.from(server.media.get(hash)!).equals(photo)).toBe(true);
  expect([pieces, sent]).toEqual([4, photo.byteLength]);
});
