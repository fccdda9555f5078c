// Lets this phone into a server's book by a one-time code, and shows which devices are in.
import type { Store } from "../store/store.ts";
import { syncNow } from "./engine.ts";
import { call } from "./server.ts";

export interface PairedDevice { id: string; name: string; paired_ms: number; seen_ms: number; this: boolean }

interface Paired { space: string; space_name: string; epoch: string; author: string }

/** Pairs with the server this page came from. What the phone already holds is offered there. Throws ServerError or StoreError. */
export async function pair(store: Store, code: string, deviceName: string): Promise<string> {
  const device = await store.meta.get("device");
  const { space, space_name, epoch } = await call<Paired>("POST", "/api/pair", { code: code.trim().toUpperCase(), device, device_name: deviceName });
  if (!(await store.meta.get("author"))) await store.meta.set("author", deviceName);
  await store.out.join(space, space_name);
  await store.meta.set("epoch", epoch);
  await store.meta.set("paired", { server: location.origin, device_name: deviceName });
  syncNow();
  return space_name;
}

export const pairedDevices = (): Promise<PairedDevice[]> => call("GET", "/api/devices");
export const shutOut = (id: string): Promise<void> => call("DELETE", `/api/devices/${id}`);
export const codeForAnother = (): Promise<{ code: string; link: string; expires_ms: number }> => call("POST", "/api/pair/codes");
