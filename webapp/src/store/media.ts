// Photos and sounds by their SHA-256, on this phone until the server has confirmed them and the person wants the room.
import type { Store } from "./store.ts";

/** Asks the server for bytes that are not here; set by sync. */
export type Fetcher = (hash: string) => Promise<{ bytes: ArrayBuffer; type: string } | null>;

export class Media {
  readonly #store: Store;
  fetcher: Fetcher | null = null;

  constructor(store: Store) { this.#store = store; }

  /** Keeps bytes and queues them for the server; resolves once they are on the disk. */
  async put(bytes: ArrayBuffer, type: string): Promise<{ hash: string }> {
    const hash = await sha256(bytes);
    await this.#store.write(async (tx) => {
      if (await tx.objectStore("media").get(hash)) return;
      await tx.objectStore("media").put({ hash, type, bytes, confirmed: false, added_ms: this.#store.nowMs() });
      await tx.objectStore("uploads").put({ hash });
    });
    return { hash };
  }

  /** The bytes from this phone, or from the server when there is one in reach, or null. Bytes with another hash are not taken. */
  async get(hash: string): Promise<{ bytes: ArrayBuffer; type: string } | null> {
    const here = await this.#store.read((db) => db.get("media", hash));
    if (here) return { bytes: here.bytes, type: here.type };
    const fetched = (await this.fetcher?.(hash)) ?? null;
    if (!fetched || (await sha256(fetched.bytes)) !== hash) return null;
    await this.#store.write(async (tx) => {
      await tx.objectStore("media").put({ hash, ...fetched, confirmed: true, added_ms: this.#store.nowMs() });
    }).catch(() => undefined); // No room to keep a copy is no reason not to show it.
    return fetched;
  }

  async state(hash: string): Promise<"here" | "confirmed" | "elsewhere"> {
    const here = await this.#store.read((db) => db.get("media", hash));
    return !here ? "elsewhere" : here.confirmed ? "confirmed" : "here";
  }

  /** Hashes still to be sent. */
  waiting(): Promise<string[]> {
    return this.#store.read((db) => db.getAllKeys("uploads"));
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
