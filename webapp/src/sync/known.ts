// Asks the server once more which photos and sounds it holds, before a phone lets go of its own copy.
import { call, ServerError } from "./server.ts";

/** The server reads each file to the end before it says that it has it. */
export const AT_ONCE = 25;

/** Those of the hashes that the server has now; null when it cannot be asked. */
export async function knownThere(hashes: readonly string[]): Promise<Set<string> | null> {
  const known = new Set<string>();
  try {
    for (let at = 0; at < hashes.length; at += AT_ONCE) {
      const answer = await call<{ known: string[] }>("POST", "/api/media/known", { hashes: hashes.slice(at, at + AT_ONCE) });
      for (const hash of answer.known) known.add(hash);
    }
    return known;
  } catch (error) {
    if (error instanceof ServerError) return null;
    throw error;
  }
}
