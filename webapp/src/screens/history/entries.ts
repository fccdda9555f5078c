// Turns the changes of a piece and all that hangs on it into entries a person can read, newest first.
import { sameValue } from "../../domain/merge.ts";
import type { Family } from "../../store/family.ts";
import type { Change } from "../../store/store.ts";
import { isPlacing } from "./field_words.ts";

/** One field that changed; `base` is what the author looked at, `apart` what had been said meanwhile without their knowing. */
export interface Line { field: string; value: unknown; base: Change | undefined; apart: Change | undefined; picked: number }
export interface Entry { id: string; record: string; kind: string; author: string; device: string; ms: number; began: boolean; lines: Line[] }

/** Edits of one hand this close together are one entry: a tap writes several fields, and slow typing saves in between. */
const TOGETHER_MS = 60_000;

export const msOf = (stamp: string): number => Number(stamp.slice(0, 15));

export function entriesOf({ changes }: Pick<Family, "changes">): Entry[] {
  const known = new Map(changes.map((change) => [change.id, change]));
  const latest = new Map<string, Change>();
  const open = new Map<string, Entry>();
  const entries: Entry[] = [];
  for (const change of changes) {
    const spot = `${change.record} ${change.field}`;
    const before = latest.get(spot);
    latest.set(spot, change);
    const ms = msOf(change.stamp);
    let entry = open.get(change.record);
    const apart = before && before.id !== change.base && !change.settles.includes(before.id) && !sameValue(before.value, change.value) ? before : undefined;
    const first = change.base === null && !before;
    const line = entry?.lines.find((one) => one.field === change.field);
    // Only words grow while they are typed; an answer that was changed at once was still another answer, and so are words written over.
    const typedOn = line && typeof line.value === "string" && typeof change.value === "string" && change.value.startsWith(line.value) && line.picked === 0;
    if (!entry || entry.device !== change.device || ms - entry.ms > TOGETHER_MS || apart || change.settles.length > 0 || (line && !typedOn)) {
      entry = { id: change.id, record: change.record, kind: change.kind, author: change.author, device: change.device, ms, began: !open.has(change.record), lines: [] };
      open.set(change.record, entry);
      entries.push(entry);
    }
    if (first && isPlacing(change.kind, change.field)) continue;
    const growing = entry.lines.find((one) => one.field === change.field);
    if (growing) growing.value = change.value;
    else entry.lines.push({ field: change.field, value: change.value, base: change.base ? known.get(change.base) : undefined, apart, picked: change.settles.length });
  }
  return entries.reverse();
}
