// Saving many price notes at once, with one way back for all of them.
import type { RecordValues, Store } from "../../store/store.ts";
import { randomId } from "../../store/random_id.ts";
import type { TableNote } from "../../domain/price_table.ts";

/** Records in one transaction: few enough that a slow phone answers between two. */
const AT_ONCE = 100;

/** What a line did not say, said for all of them. */
export interface ForAll { readonly group: string; readonly sold: boolean; readonly venue_kind: string | null }

/** A note as it is kept: what the line says goes before what is said for all. */
export function completed(note: TableNote, { group, sold, venue_kind: venue }: ForAll): TableNote & { sold: boolean } {
  return { ...(group && { group }), ...(venue && { venue_kind: venue }), ...note, sold: note.sold ?? sold };
}

/** Saves them, `onSaved` told how many so far; gives the way to take all of them off again. What was saved before a failure stays. */
export async function saveNotes(store: Store, notes: readonly object[], onSaved: (count: number) => void = () => undefined): Promise<() => Promise<void>> {
  const records = notes.map((note): RecordValues => ({ kind: "price_note", id: randomId(), values: { ...note } }));
  await inParts(store, records, onSaved);
  return () => inParts(store, records.map(({ kind, id }) => ({ kind, id, values: { deleted: true } })), () => undefined);
}

async function inParts(store: Store, records: readonly RecordValues[], onSaved: (count: number) => void): Promise<void> {
  for (let at = 0; at < records.length; at += AT_ONCE) {
    await store.setAll(records.slice(at, at + AT_ONCE));
    onSaved(Math.min(at + AT_ONCE, records.length));
  }
}
