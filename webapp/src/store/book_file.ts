// The whole book as one zip in the open export format, and back: reading merges, and never overwrites.
//
// Packed and unpacked in one go: the library's own workers are made from blobs, which the security policy forbids.
import { strFromU8, strToU8, unzipSync, zipSync, type Zippable } from "fflate";
import { sha256 } from "./media.ts";
import type { Change } from "./shape.ts";
import type { Store } from "./store.ts";

const FORMAT = "barnlight-export";
const VERSION = 1;
const DOCUMENT = "barnlight-export.json";
const SUFFIX: Record<string, string> = { "image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp", "audio/wav": ".wav" };
/** A stranger's zip may claim any size: more than this is not unpacked. */
const MOST_BYTES = 2_000_000_000;
const MOST_CHANGES = 200_000;

export class BadBook extends Error {}

interface MediaEntry { hash: string; type: string; bytes: number }

/** Everything on this phone as one zip. Photos and sounds are stored as they are: they do not get smaller. */
export async function writeBook(store: Store): Promise<Uint8Array<ArrayBuffer>> {
  const { changes, media } = await store.read(async (db) => ({ changes: await db.getAll("changes"), media: await db.getAll("media") }));
  changes.sort((a, b) => (a.stamp < b.stamp ? -1 : 1));
  const document = {
    format: FORMAT, version: VERSION, made_by: "Barnlight on a phone", about: "A whole book",
    changes: changes.map(({ number: _number, ...change }) => change),
    media: media.map(({ hash, type, bytes }): MediaEntry => ({ hash, type, bytes: bytes.byteLength })),
  };
  const files: Zippable = { [DOCUMENT]: strToU8(JSON.stringify(document)) };
  for (const { hash, type, bytes } of media) files[`media/${hash}${SUFFIX[type] ?? ""}`] = [new Uint8Array(bytes), { level: 0 }];
  return zipSync(files);
}

/** Takes in a file made by `writeBook`; gives how many changes and files were new. Throws BadBook with what to do. */
export async function readBook(store: Store, bytes: ArrayBuffer): Promise<{ changes: number; media: number }> {
  const files = unpack(new Uint8Array(bytes));
  const document = parse(files[DOCUMENT]);
  let media = 0;
  for (const { hash, type } of document.media) {
    const file = files[`media/${hash}${SUFFIX[type] ?? ""}`];
    if (!file || (await store.mediaState(hash)) !== "elsewhere") continue;
    const own = file.slice().buffer;
    if ((await sha256(own)) !== hash) throw new BadBook("A photo or sound in this file is damaged. Nothing after it was taken; use another copy of the file.");
    await store.putMedia(own, type);
    media += 1;
  }
  return { changes: await store.out.takeFile(document.changes), media };
}

function unpack(bytes: Uint8Array): Record<string, Uint8Array> {
  let total = 0;
  // Only names we could have written are unpacked at all.
  const filter = ({ name, originalSize }: { name: string; originalSize: number }) => {
    const ours = name === DOCUMENT || /^media\/[0-9a-f]{64}\.(jpg|png|webp|wav)$/.test(name);
    total += ours ? originalSize : 0;
    return ours && total <= MOST_BYTES;
  };
  let files: Record<string, Uint8Array>;
  try {
    files = unzipSync(bytes, { filter });
  } catch {
    throw new BadBook("This is not a file that Barnlight saved. Choose the zip made by “Save everything to one file”.");
  }
  if (total > MOST_BYTES) throw new BadBook("This file holds more than a phone can take in at once. Import it on the server.");
  return files;
}

const CHANGE_TEXTS = ["id", "kind", "record", "field", "stamp", "device", "author"] as const;
const NAME = /^[a-z][a-z0-9_]{0,63}$/;

function isChange(value: unknown): value is Change {
  const one = value as Record<string, unknown> | null;
  return typeof one === "object" && one !== null && CHANGE_TEXTS.every((key) => typeof one[key] === "string")
    && /^[0-9a-f]{32}$/.test(one["id"] as string) && /^[0-9a-f]{32}$/.test(one["record"] as string)
    && NAME.test(one["kind"] as string) && NAME.test(one["field"] as string) && /^\d{15}\.\d{6}\.[0-9a-f]{32}$/.test(one["stamp"] as string)
    && (one["base"] === null || typeof one["base"] === "string") && Array.isArray(one["settles"]) && "value" in one;
}

function isEntry(value: unknown): value is MediaEntry {
  const one = value as Record<string, unknown> | null;
  return typeof one === "object" && one !== null && /^[0-9a-f]{64}$/.test(String(one["hash"])) && typeof one["type"] === "string" && Object.hasOwn(SUFFIX, one["type"]);
}

function parse(file: Uint8Array | undefined): { changes: Change[]; media: MediaEntry[] } {
  if (!file) throw new BadBook("This zip holds no book of Barnlight. Choose the zip made by “Save everything to one file”.");
  let document: Record<string, unknown> | null;
  try {
    document = JSON.parse(strFromU8(file)) as Record<string, unknown> | null;
  } catch {
    throw new BadBook("The book in this file is damaged. Use another copy of the file.");
  }
  if (document?.["format"] !== FORMAT) throw new BadBook("This zip holds no book of Barnlight.");
  if (document["version"] !== VERSION) throw new BadBook("This file was made by a newer Barnlight. Update this phone's Barnlight, then load it.");
  const { changes, media } = document;
  if (!Array.isArray(changes) || !Array.isArray(media) || changes.length > MOST_CHANGES || !changes.every(isChange) || !media.every(isEntry)) throw new BadBook("The book in this file is damaged. Use another copy of the file.");
  return { changes, media };
}
