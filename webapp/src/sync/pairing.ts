// Lets this phone into a server's book by a one-time code, and shows which devices are in.
import { leaveBook, onlyHere } from "../store/leave_book.ts";
import type { Store } from "../store/store.ts";
import { syncNow } from "./engine.ts";
import { call } from "./server.ts";

/** The name of the book that a demo's server keeps: its sales are invented. */
export const DEMO_BOOK = "Demo";

export interface PairedDevice { id: string; name: string; paired_ms: number; seen_ms: number; this: boolean }

interface Paired { space: string; space_name: string; epoch: string; author: string }

/**
 * Pairs with the server this page came from. What the phone already holds is offered there, unless `leaveBehind`: then the
 * phone starts with empty pages, which it may only when all it holds is on the server it was paired with before.
 * Throws ServerError or StoreError, and RangeError where something would be lost.
 */
export async function pair(store: Store, code: string, deviceName: string, leaveBehind = false): Promise<string> {
  if (leaveBehind && (await onlyHere(store)) > 0) throw new RangeError("Some of it is on this phone alone and would be lost.");
  const device = await store.meta.get("device");
  const { space, space_name, epoch } = await call<Paired>("POST", "/api/pair", { code: code.trim().toUpperCase(), device, device_name: deviceName });
  if (!(await store.meta.get("author"))) await store.meta.set("author", deviceName);
  if (leaveBehind) await leaveBook(store);
  await store.out.join(space, space_name, epoch);
  await store.meta.set("paired", { server: location.origin, device_name: deviceName });
  syncNow();
  return space_name;
}

export const pairedDevices = (): Promise<PairedDevice[]> => call("GET", "/api/devices");
export const shutOut = (id: string): Promise<void> => call("DELETE", `/api/devices/${id}`);
export const rename = (id: string, name: string): Promise<void> => call("PATCH", `/api/devices/${id}`, { name });

/** A code for another phone: its link, the link as rows of QR squares, and from when to when it holds, by the server's clock. */
export interface Invitation { code: string; link: string; qr: string[]; made_ms: number; expires_ms: number; lasts_ms: number }

export const codeForAnother = (): Promise<Invitation> => call("POST", "/api/pair/codes");
