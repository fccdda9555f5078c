// How safe the phone's storage is: asked to last, how full, and whether this page may use it at all.

export interface StorageFacts { persisted: boolean | null; used_bytes: number | null; quota_bytes: number | null }

/** Asks the browser not to clear this page's storage by itself; null where it cannot be asked. */
export async function askToPersist(): Promise<boolean | null> {
  if (!navigator.storage?.persist) return null;
  return (await navigator.storage.persisted()) || (await navigator.storage.persist());
}

export async function storageFacts(): Promise<StorageFacts> {
  const persisted = navigator.storage?.persisted ? await navigator.storage.persisted() : null;
  const estimate = navigator.storage?.estimate ? await navigator.storage.estimate() : {};
  return { persisted, used_bytes: estimate.usage ?? null, quota_bytes: estimate.quota ?? null };
}
