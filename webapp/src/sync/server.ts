// The only place that talks to the server: JSON and bytes, with time limits and one kind of error.

import type { Absence, Bytes } from "../store/media.ts";

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

/** What a server says of an address that only newer ones have. */
const NO_SUCH_ADDRESS = "There is nothing at this address.";

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
    throw unreachable();
  }
  if (response.ok) return response;
  const body = await response.json().catch(() => null) as { error?: { code?: string; message?: string; hint?: string } } | null;
  const { code = "server", message = `The server answered ${response.status}.`, hint, ...details } = body?.error ?? {};
  if (response.status === 405 || (response.status === 404 && message === NO_SUCH_ADDRESS)) {
    throw new ServerError(response.status, "server_too_old", "The server's Barnlight is older than this phone's, and cannot do that yet.", "Update Barnlight on the server. Until then everything stays as it is; nothing is lost.");
  }
  const partly = response.headers.get("X-Received");
  throw new ServerError(response.status, code, message, hint, partly === null ? details : { ...details, received: Number(partly) });
}

const unreachable = () => new ServerError(0, "unreachable", "The server cannot be reached.", "Everything stays on this phone and is sent later.");

/** Sends and receives JSON; `patient` where the server has long work to do. Throws ServerError. */
export async function call<T>(method: "GET" | "POST" | "PATCH" | "DELETE", path: string, body?: unknown, patient = false): Promise<T> {
  const response = await ask(path, { method, ...(body !== undefined && await packed(body)) }, patient ? MEDIA_LIMIT_MS : JSON_LIMIT_MS);
  return (response.status === 204 ? undefined : await told(response)) as T;
}

export interface Step { readonly done: number; readonly of: number }

/** Long work of the server: `hear` is told how far it is, line by line, as far as the network hands lines on. Throws ServerError. */
export async function callAlong<T>(path: string, body: unknown, hear: (step: Step) => void): Promise<T> {
  const { headers, ...rest } = await packed(body);
  const response = await ask(path, { method: "POST", ...rest, headers: { ...(headers as Record<string, string>), Accept: LINES } }, MEDIA_LIMIT_MS);
  if (!response.headers.get("Content-Type")?.includes(LINES) || !response.body) return await told(response) as T;
  let unread = "";
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  for (;;) {
    const { done, value } = await reader.read().catch(() => { throw unreachable(); });
    if (done) throw unreachable();
    const lines = (unread + value).split("\n");
    unread = lines.pop()!;
    for (const line of lines) {
      const said = JSON.parse(line) as Partial<Step> & { answer?: T; status?: number; error?: { code: string; message: string; hint?: string } };
      if (said.answer !== undefined) return said.answer;
      if (said.error) {
        const { code, message, hint, ...details } = said.error;
        throw new ServerError(said.status ?? 500, code, message, hint, details);
      }
      hear(said as Step);
    }
  }
}

const LINES = "application/x-ndjson";

/** The answer's JSON. What a network that wants a person to sign in answers instead is no word of the server's; nor is half an answer. */
async function told(response: Response): Promise<unknown> {
  if (!response.headers.get("Content-Type")?.includes("json")) {
    throw new ServerError(0, "not_the_server", "Something else than the server answered.", "This network may want you to sign in first.");
  }
  return response.json().catch(() => { throw unreachable(); });
}

/** Below this a body is sent as it is: packing would save less than a packet. */
const PACK_FROM_CHARACTERS = 1024;

/** A body of JSON, packed where it is worth it and this browser can. */
async function packed(body: unknown): Promise<RequestInit> {
  const text = JSON.stringify(body);
  const headers = { "Content-Type": "application/json" };
  if (text.length < PACK_FROM_CHARACTERS || typeof CompressionStream === "undefined") return { body: text, headers };
  const gzip = new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"));
  return { body: await new Response(gzip).arrayBuffer(), headers: { ...headers, "Content-Encoding": "gzip" } };
}

/** What a cut line loses at most. */
const PIECE_BYTES = 256 * 1024;

/** Sends bytes, going on where an earlier try was cut. Throws ServerError. */
export async function putMedia(hash: string, bytes: ArrayBuffer, type: string): Promise<void> {
  const path = `/api/media/${hash}`;
  const put = async (body: ArrayBuffer, more: Record<string, string> = {}) => {
    const answer = await ask(path, { method: "PUT", body, headers: { "Content-Type": type, ...more } }, MEDIA_LIMIT_MS);
    return await told(answer) as { hash: string; bytes: number; state: string };
  };
  const total = bytes.byteLength;
  const begun = total > PIECE_BYTES ? await received(path) : null;
  // A full count that is not kept yet: the last piece again makes the server check and keep it.
  for (let at = Math.min(begun ?? 0, total - 1); ;) {
    const answer = begun === null ? await put(bytes) : await put(bytes.slice(at, at + PIECE_BYTES), { "X-Offset": String(at), "X-Total": String(total) });
    // Only these words confirm a file; whatever else comes back with a good status does not.
    if (answer.hash === hash && answer.state === "stored") return;
    if (begun === null || !(answer.bytes > at)) throw new ServerError(0, "stuck", "The server does not take this file now.");
    at = answer.bytes;
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

/** The bytes of a file of the server's own making. Throws ServerError. */
export async function getFile(path: string): Promise<ArrayBuffer> {
  return (await ask(path, { method: "GET" }, MEDIA_LIMIT_MS)).arrayBuffer().catch(() => { throw unreachable(); });
}

/** Bytes by hash, or why there are none. */
export async function getMedia(hash: string): Promise<Bytes | Absence> {
  try {
    const response = await ask(`/api/media/${hash}`, { method: "GET", headers: { Accept: "*/*" } }, MEDIA_LIMIT_MS);
    return { bytes: await response.arrayBuffer(), type: response.headers.get("Content-Type") ?? "application/octet-stream" };
  } catch (error) {
    return error instanceof ServerError && error.status === 404 ? "not_there" : "no_signal";
  }
}
