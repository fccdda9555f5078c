// Counts things that must not be interrupted (a pass, a take), so that an update waits for its moment.
import { computed, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";

const holding = signal(0);

/** True while nobody may swap the app under the person's hands. */
export const isBusy = computed(() => holding.value > 0);

/** Holds off interruptions until the returned function is called. */
export function busy(): () => void {
  holding.value += 1;
  return () => { holding.value -= 1; };
}

/** Holds off interruptions while the calling part is on screen. */
export function useBusy(): void {
  useEffect(busy, []);
}
