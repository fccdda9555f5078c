// Finds the fields whose last words differ, because their authors did not know of each other, and who said each first.
import { sameValue, versions } from "../domain/merge.ts";
import { SCHEMA, type Change } from "./shape.ts";

/** A version as people are asked about it: `change` is what a pick names, `said` the change that first said so. */
export interface Version { change: Change; said: Change }
export interface ApartField { record: string; kind: string; field: string; versions: Version[] }

/** Every field of these changes with more than one last word, in the order of first mention. */
export function apartFields(changes: readonly Change[]): ApartField[] {
  const fields = new Map<string, Change[]>();
  for (const change of changes) {
    if (change.schema > SCHEMA) continue;
    const key = `${change.record} ${change.field}`;
    const known = fields.get(key);
    if (known) known.push(change);
    else fields.set(key, [change]);
  }
  return [...fields.values()].flatMap((all) => {
    const open = versions(all);
    const [{ record, kind, field }] = all as [Change];
    return open.length < 2 ? [] : [{ record, kind, field, versions: open.map((change) => ({ change, said: firstSaid(change, all) })) }];
  });
}

/** A choice that was opened again repeats its versions; who said them, and when, stays what it was. */
function firstSaid(change: Change, all: readonly Change[]): Change {
  const pick = all.find((one) => one.id === change.base);
  const before = pick && all.find((one) => pick.settles.includes(one.id) && sameValue(one.value, change.value));
  return before && before.id !== change.id ? firstSaid(before, all) : change;
}
