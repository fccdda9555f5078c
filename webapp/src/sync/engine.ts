// Runs a round of sync whenever there may be a server in reach, and says how it stands; nothing a person does waits for it.
import { StoreError, type Store } from "../store/store.ts";
import { exchange } from "./round.ts";
import { getMedia, ServerError } from "./server.ts";
import { status, statusWords, type SyncStatus } from "./status.ts";

export { status } from "./status.ts";

/** After a save, wait this long for the next one: a pass makes many. */
const SETTLE_MS = 800;
const AGAIN_MIN_MS = 5_000;
const AGAIN_MAX_MS = 300_000;
const LOOK_AGAIN_MS = 60_000;
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
    store.media.fetcher = async (hash) => ((await store.meta.get("paired")) ? getMedia(hash) : "no_server");
    store.subscribe((touched) => {
      if (!touched.some((one) => one.kind !== "meta" || one.record === "meta:paired")) return;
      this.wake(SETTLE_MS);
      // Meanwhile nobody may read that all of it is on the server. A store that was closed has nothing to count.
      this.#recount().catch(() => undefined);
    });
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
      await exchange(store, () => this.#show("sending"));
      this.#backoffMs = AGAIN_MIN_MS;
      await this.#show("idle", store.nowMs());
      return LOOK_AGAIN_MS;
    } catch (error) {
      if (!(error instanceof ServerError)) {
        console.error(error);
        await this.#show(error instanceof StoreError && error.code === "quota" ? "full" : "error");
      } else if (error.status === 401) await this.#show("paused");
      else if (error.unreachable) await this.#show("offline");
      else await this.#show("error", undefined, [error.message, error.hint].filter(Boolean).join(" "));
      this.#backoffMs = Math.min(2 * this.#backoffMs, AGAIN_MAX_MS);
      return this.#backoffMs;
    }
  }

  async #show(state: SyncStatus["state"], lastMs = status.peek().last_ms, why = state === "sending" ? status.peek().why : null): Promise<void> {
    await this.#recount(() => ({ state, last_ms: lastMs, why }));
  }

  /** Shows how much waits as of now, in the state that `standing` gives once it is counted. */
  async #recount(standing: () => Pick<SyncStatus, "state" | "last_ms" | "why"> = () => status.peek()): Promise<void> {
    const { changes, media, refused } = await this.store.out.counts();
    const { state, last_ms, why } = standing();
    const now = { state, waiting: changes, media_waiting: media, refused, last_ms, why };
    status.value = { ...now, words: statusWords(now) };
  }
}

/** Runs `work` while no other tab of this browser does; one that finds another at it comes back later. */
async function inTurn(work: () => Promise<number>): Promise<number> {
  if (!("locks" in navigator)) return work();
  return navigator.locks.request("barnlight-sync", { ifAvailable: true }, (lock) => (lock ? work() : AGAIN_MIN_MS));
}
