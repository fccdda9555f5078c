// Remembers where the person was in a piece, over a closed app or a flat battery.
import type { Store } from "../../store/store.ts";

const VISIT = /^\/visit\/([0-9a-f]{32})(?:\/|$)/;

/** Keeps an address inside a visit; any other place in the app leaves the last one as it is. */
export async function rememberAddress(store: Store, path: string, query: Record<string, string>): Promise<void> {
  const visit = VISIT.exec(path)?.[1];
  if (!visit) return;
  const text = new URLSearchParams(query).toString();
  await store.meta.set("left_at", { visit, address: `#${path}${text && `?${text}`}` });
}

export async function lastAddress(store: Store): Promise<{ visit: string; address: string } | null> {
  return (await store.meta.get("left_at")) ?? null;
}
