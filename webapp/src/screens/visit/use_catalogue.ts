// The catalogue for screens: a file of its own, read once, held for as long as the app is open.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";

const held = signal<any>(undefined);
let asked = false;

/** Undefined until it has been read, a moment after the first screen. */
export function useCatalogue(): any {
  useEffect(() => {
    if (asked) return;
    asked = true;
    import("./catalogue_file.ts").then(({ CATALOGUE }) => { held.value = CATALOGUE; }, () => { asked = false; });
  }, []);
  return held.value;
}
