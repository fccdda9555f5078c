// A server of the sync protocol in memory, with the faults a real line has; stands in for `fetch`.
import { gunzipSync } from "node:zlib";
import { parse, tick } from "../../domain/clock.ts";
import type { Change } from "../../store/shape.ts";

type Stored = Change & { number: number };

export class FakeServer {
  epoch = "first";
  changes: Stored[] = [];
  readonly media = new Map<string, ArrayBuffer>();
  /** Uploads that were cut. */
  readonly partials = new Map<string, ArrayBuffer>();
  /** The person's pairing was ended. */
  revoked = false;
  reachable = true;
  /** The next answers are lost after the server did its work. */
  losesAnswers = 0;
  refuses: (change: Change) => string | null = () => null;
  refusesMedia = new Set<string>();
  /** Stamps that lie ahead are replaced by this. */
  restamp: string | null = null;
  /** The server's own clock; with it, stamps 5 minutes ahead of it are given anew as the real server does. */
  nowMs: (() => number) | null = null;
  /** Between the server's answer and the phone's hearing of it. */
  meanwhile: (() => Promise<void>) | null = null;
  readonly asked: string[] = [];
  readonly #erased = new Set<string>();

  /** A person had these records erased: they go, and a notice tells the phones. */
  erase(...records: string[]): void {
    for (const record of records) this.#erased.add(record);
    const [id, device] = [String(this.changes.length + 1).padStart(32, "0"), "5".repeat(32)];
    const notice = { id, space: device, kind: "erasure", record: id, field: "records", value: records, stamp: `001780000000000.000000.${device}`, base: null, settles: [], device, author: "server", schema: 1 };
    this.changes.push({ ...notice, number: (this.changes.at(-1)?.number ?? 0) + 1 });
    this.changes = this.changes.filter((change) => !this.#erased.has(change.record));
  }

  readonly fetch = async (path: string, init: RequestInit = {}): Promise<Response> => {
    const method = init.method ?? "GET";
    this.asked.push(`${method} ${path}`);
    if (!this.reachable) throw new TypeError("no line");
    if (this.revoked) return json(401, { error: { code: "not_paired", message: "This device is not paired." } });
    const answer = this.#answer(method, path, init);
    await this.meanwhile?.();
    if (this.losesAnswers > 0) {
      this.losesAnswers -= 1;
      throw new TypeError("the line broke");
    }
    return answer;
  };

  #answer(method: string, path: string, init: RequestInit): Response {
    const body = method === "POST" ? unpacked(init) : undefined;
    if (method === "POST" && path === "/api/changes") return json(200, { epoch: this.epoch, results: this.#pushAll(body.changes as Change[]) });
    if (method === "POST" && path === "/api/media/known") return json(200, { known: (body.hashes as string[]).filter((hash) => this.media.has(hash)) });
    const [, hash] = /^\/api\/media\/([0-9a-f]{64})$/.exec(path) ?? [];
    if (hash && method === "PUT") {
      if (this.refusesMedia.has(hash)) return json(415, { error: { code: "metadata", message: "This picture carries more than a picture." } });
      return this.#put(hash, init.body as ArrayBuffer, new Headers(init.headers));
    }
    if (hash && method === "HEAD") {
      const count = this.media.get(hash)?.byteLength ?? this.partials.get(hash)?.byteLength ?? 0;
      return new Response(null, { status: this.media.has(hash) ? 200 : 404, headers: { "X-Received": String(count) } });
    }
    if (hash && this.media.has(hash)) return new Response(this.media.get(hash)!, { headers: { "Content-Type": "image/jpeg" } });
    const [, after, limit] = /^\/api\/changes\?after=(\d+)&limit=(\d+)$/.exec(path) ?? [];
    if (after === undefined) return json(404, { error: { code: "not_found", message: "Nothing here." } });
    const page = this.changes.filter((change) => change.number > Number(after)).slice(0, Number(limit));
    const next = page.at(-1)?.number ?? Number(after);
    return json(200, { epoch: this.epoch, changes: page, next, more: next < (this.changes.at(-1)?.number ?? 0) });
  }

  #put(hash: string, body: ArrayBuffer, headers: Headers): Response {
    const [offset, total] = [headers.get("X-Offset"), Number(headers.get("X-Total"))];
    if (offset === null) {
      this.media.set(hash, body);
      return json(200, { hash, bytes: body.byteLength, state: "stored" });
    }
    const before = new Uint8Array(this.partials.get(hash) ?? new ArrayBuffer(0)).slice(0, Number(offset));
    if (before.byteLength < Number(offset)) return json(409, { error: { code: "offset", message: "A piece before this one is missing." } });
    const now = new Uint8Array(before.byteLength + body.byteLength);
    now.set(before);
    now.set(new Uint8Array(body), before.byteLength);
    (now.byteLength === total ? this.media : this.partials).set(hash, now.buffer);
    return json(200, { hash, bytes: now.byteLength, state: now.byteLength === total ? "stored" : "partial" });
  }

  /** In the order of their stamps, whatever the line made of it; the results in the order given. */
  #pushAll(changes: Change[]) {
    const results = new Map([...changes].sort((a, b) => (a.stamp < b.stamp ? -1 : 1)).map((change) => [change.id, this.#push(change)]));
    return changes.map((change) => results.get(change.id));
  }

  #push(change: Change) {
    const known = this.changes.find((one) => one.id === change.id);
    if (known) return { id: change.id, result: "duplicate", number: known.number, ...(known.stamp !== change.stamp && { stamp: known.stamp }) };
    if (this.#erased.has(change.record)) return { id: change.id, result: "refused", reason: "erased", message: "This was erased." };
    const message = change.author === "" ? "A change names its author." : this.refuses(change);
    if (message) return { id: change.id, result: "refused", reason: "bad_value", message };
    const stamp = this.restamp ?? this.#stampOf(change);
    const number = (this.changes.at(-1)?.number ?? 0) + 1;
    this.changes.push({ ...change, stamp, number });
    return { id: change.id, result: "ok", number, ...(stamp !== change.stamp && { stamp }) };
  }

  /** The change's own, unless it lies far ahead: then one just after all that was seen. */
  #stampOf({ stamp, device }: Change): string {
    if (!this.nowMs || parse(stamp)[0] <= this.nowMs() + AHEAD_MS) return stamp;
    const latest = this.changes.reduce<string | null>((late, one) => (late === null || one.stamp > late ? one.stamp : late), null);
    return tick(latest, this.nowMs(), device);
  }
}

const AHEAD_MS = 5 * 60 * 1000;

function unpacked(init: RequestInit): any {
  const packed = new Headers(init.headers).get("Content-Encoding") === "gzip";
  return JSON.parse(packed ? gunzipSync(Buffer.from(init.body as ArrayBuffer)).toString() : init.body as string);
}

function json(status: number, body: unknown): Response {
  return new Response(JSON.stringify(body), { status, headers: { "Content-Type": "application/json" } });
}
