// A kept photo's bytes as a file for the finder, or why they are not to be had.
import { useEffect, useState } from "preact/hooks";
import { useStore } from "../../store/live.ts";
import type { Absence } from "../../store/media.ts";

/** Undefined while it is read. */
export function useStoredPhoto(hash: string): Blob | Absence | undefined {
  const store = useStore();
  const [found, setFound] = useState<{ hash: string; file: Blob | Absence }>();
  useEffect(() => {
    let wanted = true;
    store.media.find(hash).then(
      (media) => { if (wanted) setFound({ hash, file: typeof media === "string" ? media : new Blob([media.bytes], { type: media.type }) }); },
      () => { if (wanted) setFound({ hash, file: "no_signal" }); },
    );
    return () => { wanted = false; };
  }, [hash, store]);
  return found?.hash === hash ? found.file : undefined;
}
