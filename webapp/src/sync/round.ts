// One round with the server: push what waits, pull what is new, send photos and sounds. Cut anywhere, the next one goes on.
import type { PulledPage, PushResult } from "../store/outbox.ts";
import type { Store } from "../store/store.ts";
import { AT_ONCE } from "./known.ts";
import { call, putMedia, ServerError } from "./server.ts";

const PUSH_MOST = 200;
const PULL_MOST = 500;
/** What the server answers about one file: not its hash, too large, not a clean photo or sound. */
const REFUSED_FILE = [400, 413, 415];

interface PushAnswer { epoch: string; results: PushResult[] }
interface PullAnswer extends PulledPage { more: boolean }

/** Runs one round; `progress` is called after each step. Throws ServerError, or StoreError when the phone cannot keep what came. */
export async function exchange(store: Store, progress: () => Promise<void>): Promise<void> {
  await push(store, progress);
  await pull(store, progress);
  await sendMedia(store, progress);
}

async function push(store: Store, progress: () => Promise<void>): Promise<void> {
  for (let first: string | null = null; ;) {
    const batch = await store.out.batch(PUSH_MOST);
    const [space, epoch] = [await store.meta.get("space"), (await store.meta.get("epoch")) ?? null];
    if (batch.length === 0) return;
    if (batch[0]!.id === first) throw new ServerError(0, "stuck", "The server gave no word on some edits.", "They stay on this phone and are sent later.");
    first = batch[0]!.id;
    const changes = batch.map(({ number: _number, ...change }) => ({ ...change, space }));
    const answer = await call<PushAnswer>("POST", "/api/changes", { epoch, changes });
    await store.out.settle(answer.results, space);
    // The server came back from a backup: what it lost is offered again, what it has comes again; both merge.
    if (epoch !== null && answer.epoch !== epoch) {
      await store.out.offerAll(answer.epoch);
      first = null;
    }
    await progress();
  }
}

async function pull(store: Store, progress: () => Promise<void>): Promise<void> {
  for (;;) {
    const [after, space] = [(await store.meta.get("cursor")) ?? 0, (await store.meta.get("space"))!];
    const page = await call<PullAnswer>("GET", `/api/changes?after=${after}&limit=${PULL_MOST}`);
    const epoch = await store.meta.get("epoch");
    if (epoch && page.epoch !== epoch) {
      await store.out.offerAll(page.epoch);
      await push(store, progress);
      continue;
    }
    await store.out.takePage(page, { after, space });
    if (!page.more) return;
  }
}

async function sendMedia(store: Store, progress: () => Promise<void>): Promise<void> {
  const waiting = await store.media.waiting();
  const space = (await store.meta.get("space"))!;
  let refused: ServerError | null = null;
  for (let at = 0; at < waiting.length; at += AT_ONCE) {
    const some = waiting.slice(at, at + AT_ONCE);
    const { known } = await call<{ known: string[] }>("POST", "/api/media/known", { hashes: some });
    for (const hash of some) {
      try {
        if (!known.includes(hash)) {
          const one = await store.media.toSend(hash);
          if (one) await putMedia(hash, one.bytes, one.type);
        }
      } catch (error) {
        // One file that the server will not have must not hold up the others; it stays on this phone.
        if (!(error instanceof ServerError) || !REFUSED_FILE.includes(error.status)) throw error;
        refused = error;
        continue;
      }
      await store.media.confirm(hash, space);
      await progress();
    }
  }
  if (refused) throw refused;
}
