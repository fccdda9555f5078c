// The only place that talks to the server: JSON and bytes, with time limits and one kind of error.

export class ServerError extends Error {
  constructor(
    /** HTTP status; 0 when no answer came. */
    readonly status: number,
    readonly code: string,
    message: string,
    readonly hint?: string,
    readonly details: Record<string, any> = {},
  ) {
    super(message);
    this.name = "ServerError";
  }

  get unreachable(): boolean { return this.status === 0 || this.status === 502 || this.status === 503 || this.status === 504; }
}

const JSON_LIMIT_MS = 20_000;
/** A photo of 1 MB on a bad line. */
const MEDIA_LIMIT_MS = 180_000;

async function ask(path: string, init: RequestInit, limitMs: number): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(path, {
      ...init,
      credentials: "same-origin",
      cache: "no-store",
      signal: AbortSignal.timeout(limitMs),
      headers: { "X-Barnlight": "1", Accept: "application/json", ...init.headers },
    });
  } catch {
    throw new ServerError(0, "unreachable", "The server cannot be reached.", "Everything stays on this phone and is sent later.");
  }
  if (response.ok) return response;
  const body = await response.json().catch(() => null) as { error?: { code?: string; message?: string; hint?: string } } | null;
  const { code = "server", message = `The server answered ${response.status}.`, hint, ...details } = body?.error ?? {};
  const partly = response.headers.get("X-Received");
  throw new ServerError(response.status, code, message, hint, partly === null ? details : { ...details, received: Number(partly) });
}

/** Sends and receives JSON. Throws ServerError. */
export async function call<T>(method: "GET" | "POST" | "DELETE", path: string, body?: unknown): Promise<T> {
  const response = await ask(path, {
    method,
    ...(body !== undefined && { body: JSON.stringify(body), headers: { "Content-Type": "application/json" } }),
  }, JSON_LIMIT_MS);
  return (response.status === 204 ? undefined : await response.json()) as T;
}

/** What a cut line loses at most. */
const PIECE_BYTES = 256 * 1024;

/** Sends bytes, going on where an earlier try was cut. Throws ServerError. */
export async function putMedia(hash: string, bytes: ArrayBuffer, type: string): Promise<void> {
  const path = `/api/media/${hash}`;
  const put = (body: ArrayBuffer, more: Record<string, string> = {}) => ask(path, { method: "PUT", body, headers: { "Content-Type": type, ...more } }, MEDIA_LIMIT_MS);
  const total = bytes.byteLength;
  let at = total > PIECE_BYTES ? await received(path) : null;
  if (at === null) {
    await put(bytes);
    return;
  }
  // A full count that is not kept yet: the last piece again makes the server check and keep it.
  at = Math.min(at, total - 1);
  while (at < total) {
    const answer = await put(bytes.slice(at, at + PIECE_BYTES), { "X-Offset": String(at), "X-Total": String(total) });
    const { bytes: there, state } = await answer.json() as { bytes: number; state: string };
    if (state === "stored") return;
    if (there <= at) throw new ServerError(0, "stuck", "The server does not take this file now.");
    at = there;
  }
}

/** How many bytes the server has of an upload that was cut; null where it does not know of pieces. */
async function received(path: string): Promise<number | null> {
  try {
    return Number((await ask(path, { method: "HEAD" }, JSON_LIMIT_MS)).headers.get("X-Received"));
  } catch (error) {
    if (!(error instanceof ServerError) || error.status !== 404) throw error;
    return "received" in error.details ? error.details["received"] as number : null;
  }
}

/** Bytes by hash, or null when the server has none. */
export async function getMedia(hash: string): Promise<{ bytes: ArrayBuffer; type: string } | null> {
  try {
    const response = await ask(`/api/media/${hash}`, { method: "GET", headers: { Accept: "*/*" } }, MEDIA_LIMIT_MS);
    return { bytes: await response.arrayBuffer(), type: response.headers.get("Content-Type") ?? "application/octet-stream" };
  } catch (error) {
    if (error instanceof ServerError) return null;
    throw error;
  }
}
