// Says that something was not saved, why, and what to do; never silently.
import { go } from "./route.ts";
import { showToast } from "./toast.tsx";

const TODO: Record<string, string> = {
  quota: "Not saved: the phone's storage is full. Free some room, then try again.",
  blocked: "Not saved: this browser blocks storage. Leave private browsing, then try again.",
  lost: "Not saved: the phone took its storage back. Close Barnlight, open it again, and try again.",
};

export function tellFailure(error: unknown, again?: () => void): void {
  console.error(error);
  const code = (error as { code?: string } | null)?.code ?? "";
  const words = TODO[code] ?? `Not saved: ${error instanceof Error ? error.message : "the phone refused"}. Try again.`;
  showToast({ words, failed: true, again, ...(code === "quota" && { more: { word: "Make room", run: () => go("#/room") } }) });
}
