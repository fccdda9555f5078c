// What is wrong with the phone's storage, if anything, and what to do about it.
import { signal } from "@preact/signals";
import type { Store } from "../store/store.ts";

/** `room`: letting go of photos and sounds may help, or a copy made under Device. */
export interface Trouble { what: string; todo: string; room?: boolean }

export const storageTrouble = signal<Trouble | null>(null);

/** From this part of the granted room on, photos may soon be refused. */
const NEARLY_FULL = 0.9;

const LOST: Trouble = { what: "The phone took the storage back.", todo: "Close Barnlight and open it again before you go on. What was saved before stays." };
const FULL: Trouble = { what: "The phone's storage is nearly full.", todo: "What is on the server can be let go here. Otherwise save a backup under Device, and free some room on the phone.", room: true };

/** Watches over loss and room from now on; call once. */
export function watchStorage(store: Store): void {
  store.onLost = () => { storageTrouble.value = LOST; };
  const measure = async () => {
    // Some browsers have no estimate; then only a refused save tells.
    const { usage = 0, quota = 0 } = (await navigator.storage?.estimate?.()) ?? {};
    if (storageTrouble.peek() !== LOST) storageTrouble.value = quota > 0 && usage > quota * NEARLY_FULL ? FULL : null;
  };
  const look = () => { if (document.visibilityState === "visible") void measure().catch(() => undefined); };
  document.addEventListener("visibilitychange", look);
  look();
}
