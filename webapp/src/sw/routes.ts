// Decides, for one request of the page, where its answer comes from; kept apart from the worker so it can be tested.

/** `shell` = the cached index.html, `cached` = the copy from the install, `earlier` = maybe one of the version before, `network` = the worker stays out of it. */
export type Route = "shell" | "cached" | "earlier" | "network";

/** Files whose names change with their content: one that is not of this version belongs to another. */
const HASHED = "/assets/";

/** Paths that only the server can answer; a copy of them on the phone would be stale or private. */
const SERVER_ONLY = ["/api/", "/r/", "/evidence/", "/trust/", "/healthz/"];

export interface RequestFacts {
  method: string;
  /** True when the browser is opening a page, false for a script, picture or fetch. */
  navigation: boolean;
  sameOrigin: boolean;
  /** Path of the address, without query or fragment. */
  path: string;
}

/** Where the answer comes from. `precached` holds the paths stored at install. */
export function route(request: RequestFacts, precached: ReadonlySet<string>): Route {
  if (request.method !== "GET" || !request.sameOrigin) return "network";
  if (SERVER_ONLY.some((start) => request.path === start.replace(/\/$/, "") || request.path.startsWith(start))) return "network";
  if (precached.has(request.path)) return "cached";
  if (request.navigation) return "shell";
  return request.path.startsWith(HASHED) ? "earlier" : "network";
}
