// A picture by its hash: from this phone if it is here, else from the server it was sent to.
import { useEffect, useState } from "preact/hooks";
import { useStore } from "../../store/live.ts";
import { Icon } from "../../ui/icon.tsx";

export function useImageAddress(hash: string | undefined): string | undefined {
  const store = useStore();
  const [address, setAddress] = useState<string>();
  useEffect(() => {
    if (!hash) return undefined;
    let wanted = true;
    let made: string | undefined;
    void store.getMedia(hash).then((media) => {
      if (!wanted) return;
      if (media) made = URL.createObjectURL(new Blob([media.bytes], { type: media.type }));
      setAddress(made ?? `/api/media/${hash}`);
    });
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
  const [failed, setFailed] = useState(false);
  if (failed) return <span class="no-picture"><Icon name="camera" /><span class="small">On another phone; comes when there is a signal</span></span>;
  return <img src={address} alt={alt} loading={eager ? "eager" : "lazy"} decoding="async" onError={() => address && setFailed(true)} />;
}
