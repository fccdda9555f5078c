// What an erasure would take, asked of the server or, on a phone that never had one, of the phone itself.
import { eraseHere, reachOf, type Erasable } from "../../store/erase_here.ts";
import type { Store } from "../../store/store.ts";
import { syncNow } from "../../sync/engine.ts";
import { call } from "../../sync/server.ts";

/** As the server tells it; `records` counts by kind. */
export interface Told {
  records: Record<string, number>;
  changes: number;
  reports: { title: string; version: number }[];
  links: number;
  media: number;
  media_bytes: number;
  stays: { id: string; title: string }[];
}

const onServer = (kind: Erasable, id: string, dryRun: boolean): Promise<Told> => call("POST", "/api/erase", { kind, id, dry_run: dryRun });

/** Throws ServerError when this phone shares its book and the server cannot say. */
export async function wouldGo(store: Store, kind: Erasable, id: string): Promise<Told> {
  if (await store.meta.get("paired")) return onServer(kind, id, true);
  const { ids, changes, files, loose } = await reachOf(store, kind, id);
  const records: Record<string, number> = {};
  for (const one of ids.values()) records[one] = (records[one] ?? 0) + 1;
  return {
    records, changes, reports: [], links: 0, media: files.length, media_bytes: files.reduce((sum, file) => sum + file.bytes, 0),
    stays: loose.map((session) => ({ id: session.id, title: String(session.fields["title"]?.value ?? "") })),
  };
}

/** Erases it for good. The server tells every device of the book, this one among them, at its next pull. */
export async function erase(store: Store, kind: Erasable, id: string): Promise<void> {
  if (await store.meta.get("paired")) {
    await onServer(kind, id, false);
    syncNow();
    return;
  }
  await eraseHere(store, await reachOf(store, kind, id));
}

const WORDS: Record<string, [one: string, many: string]> = {
  session: ["sale", "sales"], piece: ["piece", "pieces"], visit: ["look at a piece", "looks at pieces"], answer: ["answer", "answers"], claim: ["claim", "claims"], reading: ["reading", "readings"],
  photo: ["photo", "photos"], spot: ["spot on a photo", "spots on photos"], recording: ["sound", "sounds"], take: ["firing", "firings"], mark: ["pair of marks", "pairs of marks"], repair: ["repair", "repairs"],
  film_test: ["film test", "film tests"], seller: ["seller", "sellers"], dealing: ["dealing", "dealings"], deal: ["note of what became of a piece", "notes of what became of pieces"], publication: ["report", "reports"],
};

/** "3 pieces", for each kind that goes, the weightiest first. */
export function countWords(records: Told["records"]): string[] {
  const order = Object.keys(WORDS);
  const rank = (kind: string) => (order.includes(kind) ? order.indexOf(kind) : order.length);
  return Object.entries(records).filter(([kind, count]) => count > 0 && kind !== "publication").sort(([a], [b]) => rank(a) - rank(b))
    .map(([kind, count]) => `${count} ${(WORDS[kind] ?? [kind.replaceAll("_", " "), kind.replaceAll("_", " ")])[count === 1 ? 0 : 1]}`);
}
