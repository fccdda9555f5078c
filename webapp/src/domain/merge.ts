// How edits made without knowing of each other become one value, with none of them lost.
//
// All functions take changes of ONE field of ONE record.

/** The parts of a change that merging looks at. */
export interface Mergeable {
  readonly id: string;
  readonly stamp: string;
  readonly value?: unknown;
  readonly base?: string | null;
  readonly settles?: readonly string[];
}

/** Whether `a` is the field's value rather than `b`: the later stamp, then the larger id. */
export function wins(a: Pick<Mergeable, "id" | "stamp">, b: Pick<Mergeable, "id" | "stamp">): boolean {
  return a.stamp === b.stamp ? a.id > b.id : a.stamp > b.stamp;
}

/** The changes nobody built on (as base) or settled, latest first: each is a last word somebody had. */
export function leaves<T extends Mergeable>(changes: readonly T[]): T[] {
  const followed = new Set<string>();
  for (const change of changes) {
    if (change.base) followed.add(change.base);
    for (const id of change.settles ?? []) followed.add(id);
  }
  return latestFirst(changes.filter((change) => !followed.has(change.id)));
}

/** The changes to show for the field, latest first, one a distinct value; a single one means agreed. */
export function versions<T extends Mergeable>(changes: readonly T[]): T[] {
  const lastWords = leaves(changes);
  // Only forged bases can run in a ring and leave no leaf; the winner then stands alone.
  const candidates = lastWords.length > 0 ? lastWords : latestFirst(changes).slice(0, 1);
  const shown: T[] = [];
  for (const change of candidates) {
    if (!shown.some((other) => sameValue(change.value, other.value))) shown.push(change);
  }
  return shown;
}

function latestFirst<T extends Mergeable>(changes: readonly T[]): T[] {
  return [...changes].sort((a, b) => (a === b ? 0 : wins(a, b) ? -1 : 1));
}

/** Whether two JSON values are equal, whatever the order of their properties. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [left, right] = [a as Record<string, unknown>, b as Record<string, unknown>];
  const keys = Object.keys(left);
  return keys.length === Object.keys(right).length && keys.every((key) => key in right && sameValue(left[key], right[key]));
}
