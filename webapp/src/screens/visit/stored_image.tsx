// A picture by its hash: from this phone, or from the server when there is one in reach, or a plain word where it is.
import { useEffect, useState } from "preact/hooks";
import { useStore } from "../../store/live.ts";
import type { Absence } from "../../store/media.ts";
import { Icon } from "../../ui/icon.tsx";

/** Undefined while it is looked for, else its address or why there is none. */
function useImageAddress(hash: string): { address: string } | Absence | undefined {
  const store = useStore();
  const [found, setFound] = useState<{ address: string } | Absence>();
  useEffect(() => {
    let wanted = true;
    let made: string | undefined;
    store.media.find(hash).then((media) => {
      if (!wanted) return;
      if (typeof media === "string") {
        setFound(media);
        return;
      }
      made = URL.createObjectURL(new Blob([media.bytes], { type: media.type }));
      setFound({ address: made });
    }, () => { if (wanted) setFound("no_signal"); });
    return () => {
      wanted = false;
      if (made) URL.revokeObjectURL(made);
      setFound(undefined);
    };
  }, [hash, store]);
  return found;
}

/** Where bytes are that cannot be shown; `by` is whose phone took them. */
export function absenceWords(absence: Absence, by?: string): string {
  const phone = by ? `the phone of ${by}` : "another phone";
  return { not_there: `Still on ${phone}`, no_signal: "On the server; shown when there is a signal", no_server: `On ${phone}, not on this one`, lost: "Let go here, and on the server no more: look in its older copies" }[absence];
}

export function StoredImage({ hash, alt, by, eager = false }: { hash: string; alt: string; by?: string; eager?: boolean }) {
  const found = useImageAddress(hash);
  if (typeof found === "string") return <span class="no-picture"><Icon name="camera" /><span class="small">{absenceWords(found, by)}</span></span>;
  return <img src={found?.address} alt={alt} loading={eager ? "eager" : "lazy"} decoding="async" />;
}
