// Says that something was not saved, why, and what to do; never silently.
import { go } from "./route.ts";
import { showToast } from "./toast.tsx";

const TODO: Record<string, string> = {
  quota: "Not saved: the phone's storage is full. Free some room, then try again.",
  blocked: "Not saved: this browser blocks storage. Leave private browsing, then try again.",
  lost: "Not saved: the phone took its storage back. Close Barnlight, open it again, and try again.",
};

/** What a person is told of a failure to save. */
export function failureWords(error: unknown): string {
  const code = (error as { code?: string } | null)?.code ?? "";
  const why = error instanceof Error ? error.message : "the phone refused";
  return TODO[code] ?? `Not saved: ${why.replace(/\.$/, "")}. Try again.`;
}

export function tellFailure(error: unknown, again?: () => void): void {
  console.error(error);
  const code = (error as { code?: string } | null)?.code ?? "";
  showToast({ words: failureWords(error), failed: true, again, ...(code === "quota" && { more: { word: "Make room", run: () => go("#/room") } }) });
}
