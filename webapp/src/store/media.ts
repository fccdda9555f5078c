// Photos and sounds by their SHA-256, on this phone until the server has confirmed them and the person wants the room.
import type { Writing } from "./merging.ts";
import type { Store } from "./store.ts";

/** Bytes with their type and their SHA-256. */
export interface MediaFile { hash: string; type: string; bytes: ArrayBuffer }

export interface Bytes { bytes: ArrayBuffer; type: string }

/**
 * Why bytes are not to be had: the server has none yet, nobody could ask it, this phone has no server, or the server, which had
 * confirmed them before this phone let go, came back from an older copy without them.
 */
export type Absence = "not_there" | "no_signal" | "no_server" | "lost";

/** Asks the server for bytes that are not here; set by sync. */
export type Fetcher = (hash: string) => Promise<Bytes | Absence>;

export class Media {
  readonly #store: Store;
  fetcher: Fetcher | null = null;

  constructor(store: Store) { this.#store = store; }

  /** Keeps bytes and queues them for the server; resolves once they are on the disk. */
  async put(bytes: ArrayBuffer, type: string): Promise<{ hash: string }> {
    const hash = await sha256(bytes);
    await this.#store.write((tx) => this.keep(tx, { hash, type, bytes }));
    return { hash };
  }

  /** The same inside of a transaction, for bytes whose SHA-256 is known. */
  async keep(tx: Writing, file: MediaFile): Promise<void> {
    if (await tx.objectStore("media").get(file.hash)) return;
    await tx.objectStore("media").put({ ...file, confirmed: false, added_ms: this.#store.nowMs() });
    await tx.objectStore("uploads").put({ hash: file.hash });
  }

  /** The bytes from this phone, or from the server when there is one in reach, or null. Bytes with another hash are not taken. */
  async get(hash: string): Promise<Bytes | null> {
    const found = await this.find(hash);
    return typeof found === "string" ? null : found;
  }

  /** As `get`, but says why there are none. A copy of what was fetched is kept, unless the person let go of it for its room. */
  async find(hash: string): Promise<Bytes | Absence> {
    const here = await this.#store.read((db) => db.get("media", hash));
    if (here) return { bytes: here.bytes, type: here.type };
    const fetched = (await this.fetcher?.(hash)) ?? "no_server";
    const wasHere = ((await this.#store.meta.get("let_go")) ?? []).includes(hash);
    if (typeof fetched === "string") return fetched === "not_there" && wasHere ? "lost" : fetched;
    if ((await sha256(fetched.bytes)) !== hash) return "not_there";
    if (!wasHere) await this.#keep(hash, fetched).catch(() => undefined); // No room to keep a copy is no reason not to show it.
    return fetched;
  }

  /** Fetches bytes that were let go, to have them without a signal again; false when they are not to be had now. Throws StoreError without room. */
  async bringBack(hash: string): Promise<boolean> {
    const found = await this.find(hash);
    if (typeof found === "string") return false;
    await this.#keep(hash, found);
    return true;
  }

  async #keep(hash: string, { bytes, type }: Bytes): Promise<void> {
    await this.#store.write(async (tx) => {
      if (!(await tx.objectStore("media").get(hash))) await tx.objectStore("media").put({ hash, type, bytes, confirmed: true, added_ms: this.#store.nowMs() });
      const gone = ((await tx.objectStore("meta").get("let_go")) as string[] | undefined) ?? [];
      if (gone.includes(hash)) await tx.objectStore("meta").put(gone.filter((one) => one !== hash), "let_go");
    });
  }

  /**
   * Lets go of these bytes on this phone, but only of those that the server confirmed and that do not wait to be sent (again).
   * Gives the hashes that went; each can be brought back.
   */
  async letGo(hashes: readonly string[]): Promise<string[]> {
    const went: string[] = [];
    await this.#store.write(async (tx) => {
      for (const hash of hashes) {
        const here = await tx.objectStore("media").get(hash);
        if (!here?.confirmed || (await tx.objectStore("uploads").get(hash))) continue;
        await tx.objectStore("media").delete(hash);
        went.push(hash);
      }
      const gone = ((await tx.objectStore("meta").get("let_go")) as string[] | undefined) ?? [];
      await tx.objectStore("meta").put([...new Set([...gone, ...went])], "let_go");
    });
    this.#store.tell([{ record: "meta:let_go", kind: "meta", parents: [] }]);
    return went;
  }

  /** The server has not got these after all, as after a restored backup: they wait to be sent again. */
  async doubt(hashes: readonly string[]): Promise<void> {
    await this.#store.write(async (tx) => {
      for (const hash of hashes) {
        const here = await tx.objectStore("media").get(hash);
        if (!here) continue;
        await tx.objectStore("media").put({ ...here, confirmed: false });
        await tx.objectStore("uploads").put({ hash });
      }
    });
  }

  /** What lies on this phone, without the bytes themselves; `safe` says that the server has confirmed it. */
  async held(): Promise<{ hash: string; bytes: number; safe: boolean; added_ms: number }[]> {
    return this.#store.read(async (db) => {
      const tx = db.transaction(["media", "uploads"]);
      const waiting = new Set(await tx.objectStore("uploads").getAllKeys());
      const held = [];
      for (let cursor = await tx.objectStore("media").openCursor(); cursor; cursor = await cursor.continue()) {
        const { hash, bytes, confirmed, added_ms } = cursor.value;
        held.push({ hash, bytes: bytes.byteLength, safe: confirmed && !waiting.has(hash), added_ms });
      }
      return held;
    });
  }

  async state(hash: string): Promise<"here" | "confirmed" | "elsewhere"> {
    const here = await this.#store.read((db) => db.get("media", hash));
    return !here ? "elsewhere" : here.confirmed ? "confirmed" : "here";
  }

  /** Hashes still to be sent. */
  waiting(): Promise<string[]> {
    return this.#store.read((db) => db.getAllKeys("uploads"));
  }

  /** The bytes that wait to be sent; none if they were erased meanwhile. */
  toSend(hash: string): Promise<Bytes | undefined> {
    return this.#store.read((db) => db.get("media", hash));
  }

  /** The server said that it holds these bytes, in the book asked with: another book must be asked itself. */
  async confirm(hash: string, space?: string): Promise<void> {
    await this.#store.write(async (tx) => {
      if (space !== undefined && (await tx.objectStore("meta").get("space")) !== space) return;
      const here = await tx.objectStore("media").get(hash);
      if (here) await tx.objectStore("media").put({ ...here, confirmed: true });
      await tx.objectStore("uploads").delete(hash);
    });
  }
}

export async function sha256(bytes: ArrayBuffer): Promise<string> {
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
