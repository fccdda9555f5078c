// What can go wrong when the phone keeps something, as a code that screens put into words.

export type StoreErrorCode = "quota" | "blocked" | "newer" | "lost";

export class StoreError extends Error {
  constructor(readonly code: StoreErrorCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = "StoreError";
  }
}

const WORDS: Record<StoreErrorCode, string> = {
  quota: "the phone's storage is full",
  blocked: "this browser does not let pages keep anything",
  newer: "a newer Barnlight has used this phone's book",
  lost: "the phone took its storage back",
};

/** By the browser's own name of the error (Indexed Database API 3.0). */
const CODES: Record<string, StoreErrorCode> = { QuotaExceededError: "quota", SecurityError: "blocked", NotAllowedError: "blocked", VersionError: "newer" };

/** Names a browser's storage error; a StoreError stays what it is. */
export function storeError(error: unknown): StoreError {
  if (error instanceof StoreError) return error;
  const name = (error as { name?: string } | null)?.name ?? "";
  const code = CODES[name] ?? "lost";
  return new StoreError(code, WORDS[code], { cause: error });
}
