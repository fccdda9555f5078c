// Questions to the store that screens ask again by themselves when a record they read changes.
import { createContext } from "preact";
import { useContext, useEffect, useState } from "preact/hooks";
import type { Store, Touched } from "./store.ts";

const Held = createContext<Store | null>(null);
export const StoreProvider = Held.Provider;

export function useStore(): Store {
  const store = useContext(Held);
  if (!store) throw new Error("A screen was drawn outside of the store.");
  return store;
}

/** What a question may read; each read is noted, so that only changes to those records ask it again. */
class Noted {
  readonly ids = new Set<string>();
  readonly kinds = new Set<string>();

  constructor(store: Store) {
    const note = <A extends unknown[], T>(keys: Set<string>, read: (key: string, ...rest: A) => Promise<T>) =>
      (key: string, ...rest: A) => { keys.add(key); return read(key, ...rest); };
    this.asked = Object.assign(Object.create(store) as Store, {
      get: note(this.ids, store.get.bind(store)),
      children: note(this.ids, store.children.bind(store)),
      versions: note(this.ids, store.versions.bind(store)),
      history: note(this.ids, store.history.bind(store)),
      fieldHistory: note(this.ids, store.fieldHistory.bind(store)),
      family: async (root: string) => {
        this.ids.add(root);
        const found = await store.family(root);
        for (const record of found.records) this.ids.add(record.id);
        return found;
      },
      byKind: note(this.kinds, store.byKind.bind(store)),
      meta: Object.assign(Object.create(store.meta) as Store["meta"], {
        get: (key: Parameters<Store["meta"]["get"]>[0]) => { this.ids.add(`meta:${key}`); return store.meta.get(key); },
      }),
    });
  }

  readonly asked: Store;

  touchedBy(touched: readonly Touched[]): boolean {
    return touched.some((one) => this.kinds.has(one.kind) || this.ids.has(one.record) || one.parents.some((parent) => this.ids.has(parent)));
  }
}

/** The answer to `query`, undefined until the first one is there; asked again when `deps` or a record it read change. */
export function useLive<T>(query: (store: Store) => Promise<T>, deps: readonly unknown[]): T | undefined {
  const store = useStore();
  const [answer, setAnswer] = useState<{ deps: readonly unknown[]; value: T } | null>(null);
  const [failure, setFailure] = useState<unknown>(null);

  useEffect(() => {
    let wanted = true;
    let turn = 0;
    let noted: Noted | null = null;
    const ask = () => {
      const mine = ++turn;
      const next = new Noted(store);
      // Changes while the question runs must ask it again, so the notes of the running one count as well.
      noted = next;
      query(next.asked).then(
        (value) => { if (wanted && mine === turn) setAnswer({ deps, value }); },
        (error: unknown) => { if (wanted && mine === turn) setFailure(error ?? new Error("The phone gave no answer.")); },
      );
    };
    const stop = store.subscribe((touched) => { if (noted?.touchedBy(touched)) ask(); });
    ask();
    return () => { wanted = false; stop(); };
  }, [store, ...deps]);

  // Thrown while drawing, so that the screen's own guard says what to do.
  if (failure) throw failure;
  return answer && sameDeps(answer.deps, deps) ? answer.value : undefined;
}

const sameDeps = (a: readonly unknown[], b: readonly unknown[]) => a.length === b.length && a.every((one, index) => Object.is(one, b[index]));
