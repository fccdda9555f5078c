// Sends what waits and fetches what is new whenever there is a server in reach; nothing a person does waits for it.
import type { Store } from "../store/store.ts";
import type { PulledPage, PushResult } from "../store/outbox.ts";
import { call, getMedia, putMedia, ServerError } from "./server.ts";
import { status, statusWords, type SyncStatus } from "./status.ts";

export { status } from "./status.ts";

const PUSH_MOST = 200;
const PULL_MOST = 500;
/** After a save, wait this long for the next one: a pass makes many. */
const SETTLE_MS = 800;
const AGAIN_MIN_MS = 5_000;
const AGAIN_MAX_MS = 300_000;
const LOOK_AGAIN_MS = 60_000;
/** What the server answers about one file: not its hash, too large, not a clean photo or sound. */
const REFUSED_FILE = [400, 413, 415];

interface PushAnswer { epoch: string; results: PushResult[] }
interface PullAnswer extends PulledPage { more: boolean }

let engine: Engine | null = null;

/** Starts the one engine of this tab; tabs take turns by a lock, so that only one talks to the server. */
export function startSync(store: Store): void {
  engine ??= new Engine(store);
  engine.start();
}

/** Asks for a round now, as after pairing or when a person wants it. */
export function syncNow(): void {
  engine?.wake(0);
}

class Engine {
  #timer: ReturnType<typeof setTimeout> | undefined;
  #running = false;
  #again = false;
  #backoffMs = AGAIN_MIN_MS;

  constructor(readonly store: Store) {}

  start(): void {
    const { store } = this;
    store.media.fetcher = async (hash) => ((await store.meta.get("paired")) ? getMedia(hash) : null);
    store.subscribe((touched) => { if (touched.some((one) => one.kind !== "meta" || one.record === "meta:paired")) this.wake(SETTLE_MS); });
    addEventListener("online", () => this.wake(0));
    document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") this.wake(0); });
    this.wake(0);
  }

  wake(afterMs: number): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => { void this.#turn(); }, afterMs);
  }

  async #turn(): Promise<void> {
    if (this.#running) {
      this.#again = true;
      return;
    }
    this.#running = true;
    let nextMs = LOOK_AGAIN_MS;
    try {
      nextMs = await inTurn(() => this.#round());
    } finally {
      this.#running = false;
      this.wake(this.#again ? 0 : nextMs);
      this.#again = false;
    }
  }

  /** One round; gives how long to wait for the next. */
  async #round(): Promise<number> {
    const { store } = this;
    if (!(await store.meta.get("paired"))) {
      await this.#show("alone");
      return LOOK_AGAIN_MS;
    }
    try {
      await this.#show("sending");
      await this.#push();
      await this.#pull();
      await this.#sendMedia();
      this.#backoffMs = AGAIN_MIN_MS;
      await this.#show("idle", store.nowMs());
      return LOOK_AGAIN_MS;
    } catch (error) {
      if (!(error instanceof ServerError)) {
        console.error(error);
        await this.#show("error");
      } else if (error.status === 401) await this.#show("paused");
      else await this.#show(error.unreachable ? "offline" : "error");
      this.#backoffMs = Math.min(2 * this.#backoffMs, AGAIN_MAX_MS);
      return this.#backoffMs;
    }
  }

  async #push(): Promise<void> {
    const { store } = this;
    for (;;) {
      const batch = await store.out.batch(PUSH_MOST);
      const [space, epoch] = [await store.meta.get("space"), (await store.meta.get("epoch")) ?? null];
      if (batch.length === 0) return;
      const changes = batch.map(({ number: _number, ...change }) => ({ ...change, space }));
      const answer = await call<PushAnswer>("POST", "/api/changes", { epoch, changes });
      await store.out.settle(answer.results, space);
      if (epoch !== null && answer.epoch !== epoch) await this.#startOver(answer.epoch);
      await this.#show("sending");
    }
  }

  async #pull(): Promise<void> {
    const { store } = this;
    for (;;) {
      const [after, space] = [(await store.meta.get("cursor")) ?? 0, (await store.meta.get("space"))!];
      const page = await call<PullAnswer>("GET", `/api/changes?after=${after}&limit=${PULL_MOST}`);
      const epoch = await store.meta.get("epoch");
      if (epoch && page.epoch !== epoch) {
        await this.#startOver(page.epoch);
        await this.#push();
        continue;
      }
      await store.out.takePage(page, { after, space });
      if (!page.more) return;
    }
  }

  /** The server came back from a backup: what it lost is offered again, what it has comes again; both merge. */
  async #startOver(epoch: string): Promise<void> {
    await this.store.out.offerAll(epoch);
  }

  async #sendMedia(): Promise<void> {
    const { store } = this;
    const waiting = await store.media.waiting();
    const space = (await store.meta.get("space"))!;
    let refused: ServerError | null = null;
    for (let at = 0; at < waiting.length; at += PULL_MOST) {
      const some = waiting.slice(at, at + PULL_MOST);
      const { known } = await call<{ known: string[] }>("POST", "/api/media/known", { hashes: some });
      for (const hash of some) {
        try {
          if (!known.includes(hash)) {
            const one = await store.read((db) => db.get("media", hash));
            if (one) await putMedia(hash, one.bytes, one.type);
          }
        } catch (error) {
          // One file that the server will not have must not hold up the others; it stays on this phone.
          if (!(error instanceof ServerError) || !REFUSED_FILE.includes(error.status)) throw error;
          refused = error;
          continue;
        }
        await store.media.confirm(hash, space);
        await this.#show("sending");
      }
    }
    if (refused) throw refused;
  }

  async #show(state: SyncStatus["state"], lastMs = status.peek().last_ms): Promise<void> {
    const { changes, media, refused } = await this.store.out.counts();
    const now = { state, waiting: changes, media_waiting: media, refused, last_ms: lastMs };
    status.value = { ...now, words: statusWords(now) };
  }
}

/** Runs `work` while no other tab of this browser does; one that finds another at it comes back later. */
async function inTurn(work: () => Promise<number>): Promise<number> {
  if (!("locks" in navigator)) return work();
  return navigator.locks.request("barnlight-sync", { ifAvailable: true }, (lock) => (lock ? work() : AGAIN_MIN_MS));
}
