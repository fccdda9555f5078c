// The catalogue for screens: read once in the background, held for as long as the app is open.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { loadCatalogue, type Catalogue } from "../../domain/catalogue.ts";

const held = signal<Catalogue | undefined>(undefined);

/** Reads the catalogue ahead of the screen that needs it. */
export async function readCatalogue(): Promise<void> {
  held.value = await loadCatalogue();
}

/** Undefined until it has been read, a moment after the first screen. */
export function useCatalogue(): Catalogue | undefined {
  useEffect(() => { if (!held.peek()) readCatalogue().catch((error: unknown) => console.error(error)); }, []);
  return held.value;
}
