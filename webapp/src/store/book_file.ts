// The whole book, or one session of it, as one zip in the open export format, and back: reading merges, and never overwrites.
//
// Packed and unpacked in one go: the library's own workers are made from blobs, which the security policy forbids.
import { strFromU8, strToU8, unzipSync, zipSync, type Zippable } from "fflate";
import type { Database } from "./database.ts";
import { sha256 } from "./media.ts";
import type { Change, StoredRecord } from "./shape.ts";
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

/** A file, and how many photos and sounds it names but does not hold: they were let go or never came, and the server was not in reach. */
export interface BookFile { bytes: Uint8Array<ArrayBuffer>; missing: number }

/** Everything on this phone, or one session with all that belongs to it, as one zip. Photos and sounds are stored as they are: they do not get smaller. */
export async function writeBook(store: Store, session?: string): Promise<BookFile> {
  const changes = await store.read(async (db) => (session === undefined ? db.getAll("changes") : changesOf(db, session)));
  changes.sort((a, b) => (a.stamp < b.stamp ? -1 : 1));
  const media = mediaOf(changes);
  if (session === undefined) for (const one of await store.media.held()) if (!media.has(one.hash)) media.set(one.hash, null);
  const files: Zippable = {};
  const entries: MediaEntry[] = [];
  let missing = 0;
  for (const [hash, named] of [...media].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const found = await store.media.find(hash);
    const entry = typeof found === "string" ? named : { hash, type: found.type, bytes: found.bytes.byteLength };
    if (entry) entries.push(entry);
    if (typeof found === "string") missing += 1;
    else files[`media/${hash}${SUFFIX[found.type] ?? ""}`] = [new Uint8Array(found.bytes), { level: 0 }];
  }
  const document = {
    format: FORMAT, version: VERSION, made_by: "Barnlight on a phone", about: session === undefined ? "A whole book" : "One session with all that belongs to it",
    changes: changes.map(({ number: _number, ...change }) => change), media: entries,
  };
  return { bytes: zipSync({ [DOCUMENT]: strToU8(JSON.stringify(document)), ...files }), missing };
}

/** What a session brings along, as the server's export does: its pieces, what hangs on their looks in it, its dealings, and its seller. */
async function changesOf(db: Database, session: string): Promise<Change[]> {
  const found = new Map<string, StoredRecord>();
  const add = (records: readonly (StoredRecord | undefined)[]) => records.filter((record) => record !== undefined && !found.has(record.id)).map((record) => {
    found.set(record!.id, record!);
    return record!;
  });
  const named = (record: StoredRecord, field: string) => db.get("records", String(record.fields[field]?.value ?? ""));
  const below = async (records: readonly StoredRecord[], kinds?: readonly string[]) =>
    (await Promise.all(records.map((record) => db.getAllFromIndex("records", "parents", record.id)))).flat().filter((child) => kinds === undefined || kinds.includes(child.kind));
  const first = add([await db.get("records", session)]);
  add(await Promise.all(first.map((one) => named(one, "seller"))));
  const inIt = add(await below(first));
  const pieces = add(await Promise.all(inIt.filter((one) => one.kind === "visit").map((visit) => named(visit, "piece"))));
  // A look at the same piece in another session is that session's.
  for (let newest = [...inIt, ...pieces]; newest.length > 0;) newest = add((await below(newest)).filter((child) => child.kind !== "visit"));
  return (await Promise.all([...found.keys()].map((id) => db.getAllFromIndex("changes", "field", IDBKeyRange.bound([id, ""], [id, "\uffff"]))))).flat();
}

/** Every photo and sound that the changes name. */
function mediaOf(changes: readonly Change[]): Map<string, MediaEntry | null> {
  const media = new Map<string, MediaEntry | null>();
  for (const { field, value } of changes) if (field === "file" && isEntry(value)) media.set(value.hash, { hash: value.hash, type: value.type, bytes: value.bytes });
  return media;
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
const STAMP = /^(\d{15})\.\d{6}\.[0-9a-f]{32}$/;
/** The end of the year 9999, UTC. A clock that had taken over a stamp at the end of its width could not go on, and so nothing be saved any more. */
const LAST_MS = 253_402_300_799_999;

const isStamp = (text: string): boolean => Number(STAMP.exec(text)?.[1] ?? Infinity) <= LAST_MS;

function isChange(value: unknown): value is Change {
  const one = value as Record<string, unknown> | null;
  return typeof one === "object" && one !== null && CHANGE_TEXTS.every((key) => typeof one[key] === "string")
    && /^[0-9a-f]{32}$/.test(one["id"] as string) && /^[0-9a-f]{32}$/.test(one["record"] as string)
    && NAME.test(one["kind"] as string) && NAME.test(one["field"] as string) && isStamp(one["stamp"] as string)
    && (one["base"] === null || typeof one["base"] === "string") && Array.isArray(one["settles"]) && Number.isInteger(one["schema"]) && "value" in one;
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
