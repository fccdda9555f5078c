// The address behind the #: parsed by pattern, built from parts, changed without a reload.
import { signal } from "@preact/signals";

export interface Address { path: string; query: Record<string, string> }

/** Splits "#/visit/ID?place=a" into path and query; anything that is not an address of ours is the first screen. */
export function parseAddress(hash: string): Address {
  const text = hash.startsWith("#/") ? hash.slice(1) : "/";
  const cut = text.indexOf("?");
  const path = cut < 0 ? text : text.slice(0, cut);
  return { path, query: cut < 0 ? {} : Object.fromEntries(new URLSearchParams(text.slice(cut + 1))) };
}

/** Matches a path against "/visit/:id/check/:check"; null when it is another path. */
export function match(pattern: string, path: string): Record<string, string> | null {
  const want = pattern.split("/");
  const have = path.split("/");
  if (want.length !== have.length) return null;
  const found: Record<string, string> = {};
  for (const [index, part] of want.entries()) {
    const given = have[index]!;
    if (!part.startsWith(":")) {
      if (part !== given) return null;
      continue;
    }
    if (given === "") return null;
    try {
      found[part.slice(1)] = decodeURIComponent(given);
    } catch {
      return null;
    }
  }
  return found;
}

/** Builds an address, leaving out empty query values: `address("/visit", id, { place })` gives "#/visit/ID?place=…". */
export function address(...parts: (string | Record<string, string | undefined>)[]): string {
  const query = new URLSearchParams();
  let path = "";
  for (const part of parts) {
    if (typeof part === "string") path += part.startsWith("/") ? part : `/${encodeURIComponent(part)}`;
    else for (const [name, value] of Object.entries(part)) if (value) query.set(name, value);
  }
  const text = query.toString();
  return `#${path}${text && `?${text}`}`;
}

export const here = signal<Address>({ path: "/", query: {} });

let before: Address | null = null;

/** Where the person stood before this path, at its last query; null when the app was opened here. */
export const cameFrom = (): Address | null => before;

function stand(now: Address): void {
  if (now.path !== here.peek().path) before = here.peek();
  here.value = now;
}

/** Follows the browser's address from now on; call once. */
export function followAddress(): void {
  here.value = parseAddress(location.hash);
  addEventListener("hashchange", ({ oldURL }) => {
    // A step that was made anew remembers the one it came from; one that was gone back to knows it already.
    if (history.state === null) history.replaceState({ from: new URL(oldURL).hash || "#/" }, "");
    stand(parseAddress(location.hash));
  });
}

/** Steps back where `to` is the step before this one, as the phone's own key does, so that the key does not lead forward again. */
export function stepBackTo(to: string): boolean {
  const is = (history.state as { from?: string } | null)?.from === to;
  if (is) history.back();
  return is;
}

/** Goes to an address. `replace` leaves no step behind, as between two checks of one pass. */
export function go(to: string, { replace = false } = {}): void {
  if (!replace) {
    location.hash = to;
    return;
  }
  history.replaceState(history.state, "", to);
  stand(parseAddress(to));
}
