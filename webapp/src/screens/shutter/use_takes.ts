// The takes of a visit for a screen: there at once, their readings one by one, so that no sound on another phone holds them up.
import { useEffect, useMemo, useState } from "preact/hooks";
import { useLive, useStore } from "../../store/live.ts";
import { loadTakes, measured, type Results, type TakeView } from "./takes.ts";

/** Undefined until the takes have been read. */
export function useTakes(visit: string): TakeView[] | undefined {
  const store = useStore();
  const views = useLive((from) => loadTakes(from, visit), [visit]);
  const [results, setResults] = useState<Results>({});

  useEffect(() => {
    let wanted = true;
    for (const view of views ?? []) {
      const { id } = view.take;
      void measured(store, view).then((result) => {
        if (wanted) setResults((before) => (before[id] === result && id in before ? before : { ...before, [id]: result }));
      });
    }
    return () => { wanted = false; };
  }, [views, store]);

  return useMemo(() => views?.map((view) => ({ ...view, result: results[view.take.id] })), [views, results]);
}
