// Saves one record from a deal's screens; a failure is told with a way to try again, an edit with a way back.
import { emptyLike } from "../../store/empty_like.ts";
import type { Store } from "../../store/store.ts";
import { showToast } from "../../ui/toast.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";

type Fields = Record<string, unknown>;

/**
 * With `words` it says what was done and offers the way back: a record made just now goes, another is as it was. `empties`: what a
 * field without a value goes back to, where that is not nothing.
 */
export function put(store: Store, kind: string, id: string, fields: Fields, words?: string, empties: Fields = {}): void {
  const save = async () => {
    const before = await store.get(id);
    await store.set(kind, id, fields);
    if (words) showToast({ words, undo: () => put(store, kind, id, before && !before.values["deleted"] ? asBefore({ ...empties, ...before.values }, fields) : { deleted: true }) });
  };
  save().catch((error: unknown) => tellFailure(error, () => put(store, kind, id, fields, words)));
}

const asBefore = (values: Fields, fields: Fields): Fields => Object.fromEntries(Object.keys(fields).map((field) => [field, values[field] ?? emptyLike(fields[field])]));
