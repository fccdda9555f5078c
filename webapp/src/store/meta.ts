// Small facts of this phone: who it is, what the person chose, how far sync has come.
import type { Store } from "./store.ts";

/** A published report as files, to be handed on without a signal. */
export interface ReportCopy {
  /** Id of the session or piece. */
  about: string;
  publication: string;
  version: number;
  title: string;
  files: { name: string; type: string; bytes: ArrayBuffer }[];
}

export interface MetaFacts {
  device: string;
  space: string;
  space_name: string;
  /** The person's or the device's name, written beside each change. */
  author: string;
  unit: "mm" | "in";
  theme: "auto" | "light" | "dark";
  currency: string;
  /** Firings asked for at each marked speed of a shutter. */
  firings: number;
  /** Holder depths typed at the bench, without a session: place -> what was typed. */
  bench_depths: { format: string | null; count: number; points: Record<string, { text: string; unit: "mm" | "in"; tool: string }> };
  /** What was last chosen and typed at the bench for screen and focus. */
  bench_focus: Record<string, string>;
  /** What was typed at the other tools of the bench, by tool and field. */
  bench_sheets: Record<string, Record<string, string>>;
  /** A price typed and not saved yet. */
  price_draft: { note: Record<string, unknown>; amount: string; currency: string };
  /** Things typed under "what comes with it" and not added yet, by piece. */
  thing_drafts: Record<string, string>;
  /** Where the person left a visit, to resume at. */
  left_at: { visit: string; address: string };
  clock: string;
  cursor: number;
  epoch: string;
  paired: { server: string; device_name: string };
  /** When the oldest edit was made that no server or file holds; absent when all are safe. */
  unsaved_since: number;
  last_backup_ms: number;
  /** What was known of a book that the browser cleared before this one began; until the person has read of it. */
  cleared: { paired: boolean; unsaved_since: number | null };
  /** Ids of changes that a newer app made and this one does not understand: kept and passed on, not merged. */
  newer: string[];
  /** Hashes of photos and sounds that the person let go on this phone; they are shown from the server, without a copy kept. */
  let_go: string[];
  report_copies: ReportCopy[];
}

export class Meta {
  readonly #store: Store;

  constructor(store: Store) { this.#store = store; }

  get<K extends keyof MetaFacts>(key: K): Promise<MetaFacts[K] | undefined> {
    return this.#store.read((db) => db.get("meta", key) as Promise<MetaFacts[K] | undefined>);
  }

  async set<K extends keyof MetaFacts>(key: K, value: MetaFacts[K] | undefined): Promise<void> {
    await this.#store.write(async (tx) => {
      if (value === undefined) await tx.objectStore("meta").delete(key);
      else await tx.objectStore("meta").put(value, key);
    });
    this.#told(key);
  }

  /** Saves a fact made from what it holds by then, in one transaction: of two quick taps the second builds on the first. */
  async change<K extends keyof MetaFacts>(key: K, make: (held: MetaFacts[K] | undefined) => MetaFacts[K]): Promise<void> {
    await this.#store.write(async (tx) => {
      const facts = tx.objectStore("meta");
      await facts.put(make(await facts.get(key) as MetaFacts[K] | undefined), key);
    });
    this.#told(key);
  }

  #told(key: keyof MetaFacts): void {
    this.#store.tell([{ record: `meta:${key}`, kind: "meta", parents: [] }]);
  }
}
