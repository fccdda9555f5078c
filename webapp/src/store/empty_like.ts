// What an emptied field holds.

/** What a field holds when an edit that first filled it is undone. */
export function emptyLike(value: unknown): unknown {
  if (typeof value === "string") return "";
  if (typeof value === "boolean") return false;
  return Array.isArray(value) ? [] : null;
}
