// Hands text or a file to the phone's share sheet, or does the next best thing where there is none.

export type Shared = "shared" | "copied" | "saved" | "stopped";

const stopped = (error: unknown) => (error as { name?: string } | null)?.name === "AbortError";

/** Shares a title and an address or text; copies it where the browser has no share sheet. */
export async function shareText(title: string, text: string): Promise<Shared> {
  if (navigator.share) {
    try {
      await navigator.share(/^https?:/.test(text) ? { title, url: text } : { title, text });
      return "shared";
    } catch (error) {
      if (stopped(error)) return "stopped";
    }
  }
  await navigator.clipboard.writeText(text);
  return "copied";
}

/** Shares a file; saves it as a download where the browser cannot share files. */
export async function shareFile(name: string, type: string, bytes: BlobPart): Promise<Shared> {
  const file = new File([bytes], name, { type });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file], title: name });
      return "shared";
    } catch (error) {
      if (stopped(error)) return "stopped";
    }
  }
  const address = URL.createObjectURL(file);
  const link = Object.assign(document.createElement("a"), { href: address, download: name });
  link.click();
  // The browser reads the address after the click; it is let go once that is surely done.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
  return "saved";
}
