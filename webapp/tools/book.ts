// Writes a small book with the phone's own code, for the tests of the server that reads it: OUT.zip and a photo to put in.
import "fake-indexeddb/auto";
import { readFileSync, writeFileSync } from "node:fs";
import { writeBook } from "../src/store/book_file.ts";
import { openStore } from "../src/store/store.ts";

/** Returns the exit code. */
export async function main([out, photo]: string[]): Promise<number> {
  if (!out || !photo) {
    console.error("Name the zip to write and a JPEG photo to put into it.");
    return 2;
  }
  // Long ago, so that no clock finds its stamps to lie ahead.
  let nowMs = Date.UTC(2024, 4, 4, 9);
  const store = await openStore("book", () => (nowMs += 1000));
  const file = readFileSync(photo);
  const { hash } = await store.putMedia(new Uint8Array(file).buffer, "image/jpeg");
  const session = await store.create("session", { title: "Barn", day: "2024-05-04" });
  const piece = await store.create("piece", { kind: "camera", title: "Folding camera" });
  const visit = await store.create("visit", { session, piece, tag: "A" });
  await store.create("photo", { visit, file: { hash, type: "image/jpeg", bytes: file.length, width: 48, height: 32 }, origin: "made_by_code" });
  await store.set("session", session, { title: "Barn on the hill", weather_later: { kept: ["as", "it", "came"] } });
  writeFileSync(out, (await writeBook(store)).bytes);
  store.close();
  return 0;
}
