// A new version of the app waits until the person says yes, and never asks in the middle of a pass or a take.
import { computed, signal } from "@preact/signals";
import { isBusy } from "../ui/busy.ts";

const waiting = signal<ServiceWorker | null>(null);
/** Another tab has changed to a new version; this one still shows the one before. */
const isBehind = signal(false);
/** True when a new version is on the phone and this is a moment to ask. */
export const updateReady = computed(() => (waiting.value !== null || isBehind.value) && !isBusy.value);

let agreed = false;

/** Registers the service worker; without one the app still works while the server answers. */
export async function watchForUpdates(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  const registration = await navigator.serviceWorker.register("/sw.js", { type: "classic", updateViaCache: "none" });
  const look = () => { if (registration.waiting && navigator.serviceWorker.controller) waiting.value = registration.waiting; };
  look();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", look);
  });
  let isFirst = navigator.serviceWorker.controller === null;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (agreed) location.reload();
    else if (!isFirst) isBehind.value = true;
    isFirst = false;
  });
}

export function takeUpdate(): void {
  if (isBehind.value) return location.reload();
  agreed = true;
  waiting.value?.postMessage({ type: "activate" });
}
