// What a report reads, gathered from the phone's own book: plain records by kind, each kind in the order it was made.
import type { Bundle } from "../../domain/report_records.ts";
import type { Rec, Store } from "../../store/store.ts";
import { kept, plain, type Plain } from "../visit/view.ts";
import type { Subject } from "./reports.ts";

const OF_PIECE = ["claim", "repair", "film_test"];
const OF_VISIT = ["answer", "reading", "photo", "recording", "take"];
const OF_THOSE = ["spot", "mark", "leak_reading"];

/** The records of a session's pieces or of one piece, with the visits the report may tell of. */
export async function ownBundle(store: Store, { session, piece }: Subject): Promise<Bundle> {
  const about = await store.get((session ?? piece)!);
  if (!about || !kept(about)) return {};
  const visits = await store.children(about.id, "visit");
  const pieces = session ? await named(store, visits, "piece") : [about];
  const sessions = session ? [about] : await named(store, visits, "session");
  const looked = await below(store, visits, OF_VISIT);
  const all = [...sessions, ...pieces, ...visits, ...looked, ...(await below(store, pieces, OF_PIECE)), ...(await below(store, looked, OF_THOSE))];
  const bundle: Record<string, Plain[]> = {};
  for (const record of all.sort((a, b) => (madeAt(a) < madeAt(b) ? -1 : 1))) (bundle[record.kind] ??= []).push(plain(record));
  return bundle as Bundle;
}

/** The pieces a report is about. */
export async function piecesOf(store: Store, { session, piece }: Subject): Promise<Rec[]> {
  const about = await store.get((session ?? piece)!);
  if (!about || !kept(about)) return [];
  return session ? named(store, await store.children(about.id, "visit"), "piece") : [about];
}

/** The records that these name in a field, each once. */
async function named(store: Store, records: readonly Rec[], field: string): Promise<Rec[]> {
  const ids = new Set(records.map(({ values }) => values[field] as string | null | undefined).filter((id) => typeof id === "string"));
  return (await Promise.all([...ids].map((id) => store.get(id)))).filter((one): one is Rec => one !== undefined && kept(one));
}

async function below(store: Store, records: readonly Rec[], kinds: readonly string[]): Promise<Rec[]> {
  const found = await Promise.all(records.map(({ id }) => store.children(id)));
  return [...new Map(found.flat().filter(({ kind }) => kinds.includes(kind)).map((one) => [one.id, one])).values()];
}

/** The oldest word that stands in a record: close to when it was made, and the same at every reading. */
function madeAt({ fields, id }: Rec): string {
  return `${Object.values(fields).map(({ stamp }) => stamp).sort()[0] ?? ""} ${id}`;
}
