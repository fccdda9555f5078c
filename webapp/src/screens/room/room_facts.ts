// How much room photos and sounds take on this phone, sale by sale, and what of it may be let go.
import type { Rec, Store } from "../../store/store.ts";
import { sessionTitle } from "../session/session_title.ts";

export interface Held { hash: string; bytes: number; safe: boolean; added_ms: number }
export interface SaleRoom { id: string; title: string; day: string | undefined; here: Held[]; gone: { hash: string; bytes: number }[] }
export interface Room { held: Held[]; sales: SaleRoom[] }

/** What the server has confirmed, and so may be let go. */
export const free = (held: readonly Held[]): Held[] => held.filter((one) => one.safe);
export const bytesOf = (files: readonly { bytes: number }[]): number => files.reduce((sum, one) => sum + one.bytes, 0);
export const sizeWords = (bytes: number): string =>
  bytes < 1e9 ? `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB` : `${(bytes / 1e9).toFixed(bytes < 1e10 ? 1 : 0)} GB`;

export async function loadRoom(store: Store): Promise<Room> {
  const [held, letGo, photos, recordings, visits, sessions] = await Promise.all([
    store.media.held(), store.meta.get("let_go"), store.byKind("photo"), store.byKind("recording"), store.byKind("visit"), store.byKind("session")]);
  const here = new Map(held.map((one) => [one.hash, one]));
  const gone = new Set(letGo ?? []);
  const saleOf = new Map(visits.map((visit) => [visit.id, visit.values["session"] as string | null]));
  const sales = sessions.map((session) => ({ id: session.id, title: sessionTitle(session), day: session.values["day"] as string | undefined, ...filesOf(session.id) }));

  function filesOf(session: string): Pick<SaleRoom, "here" | "gone"> {
    const files = new Map([...photos, ...recordings].filter((one) => saleOf.get(one.values["visit"]) === session).flatMap((one) => fileOf(one)));
    return {
      here: [...files.keys()].flatMap((hash) => here.get(hash) ?? []),
      gone: [...files].filter(([hash]) => gone.has(hash) && !here.has(hash)).map(([hash, bytes]) => ({ hash, bytes })),
    };
  }
  return { held, sales: sales.filter((sale) => sale.here.length + sale.gone.length > 0).sort((a, b) => String(b.day).localeCompare(String(a.day))) };
}

function fileOf(record: Rec): [string, number][] {
  const file = record.values["file"] as { hash?: string; bytes?: number } | undefined;
  return file?.hash ? [[file.hash, file.bytes ?? 0]] : [];
}
