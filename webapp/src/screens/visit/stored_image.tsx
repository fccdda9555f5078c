// A picture by its hash: from this phone, or from the server when there is one in reach.
import { useEffect, useState } from "preact/hooks";
import { useStore } from "../../store/live.ts";
import { Icon } from "../../ui/icon.tsx";

/** Undefined while it is looked for, null when it is neither here nor in reach. */
function useImageAddress(hash: string): string | null | undefined {
  const store = useStore();
  const [address, setAddress] = useState<string | null>();
  useEffect(() => {
    let wanted = true;
    let made: string | undefined;
    store.getMedia(hash).then((media) => {
      if (!wanted) return;
      if (media) made = URL.createObjectURL(new Blob([media.bytes], { type: media.type }));
      setAddress(made ?? null);
    }, () => { if (wanted) setAddress(null); });
    return () => {
      wanted = false;
      if (made) URL.revokeObjectURL(made);
      setAddress(undefined);
    };
  }, [hash, store]);
  return address;
}

export function StoredImage({ hash, alt, eager = false }: { hash: string; alt: string; eager?: boolean }) {
  const address = useImageAddress(hash);
  if (address === null) return <span class="no-picture"><Icon name="camera" /><span class="small">On another phone; comes when there is a signal</span></span>;
  return <img src={address} alt={alt} loading={eager ? "eager" : "lazy"} decoding="async" />;
}
