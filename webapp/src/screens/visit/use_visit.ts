// One visit for a screen: its records, the catalogue and what the domain makes of both.
import { useMemo } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import { useLive } from "../../store/live.ts";
import { useCatalogue } from "./use_catalogue.ts";
import { judge, type Judged } from "./judge.ts";
import { loadVisit, type VisitView } from "./view.ts";

export interface ReadyVisit { view: VisitView; catalogue: Catalogue; judged: Judged }

/** Undefined while reading, null when the visit is not on this phone. `alone` leaves out the other pieces on the table. */
export function useVisit(id: string, { alone = false } = {}): ReadyVisit | null | undefined {
  const view = useLive((store) => loadVisit(store, id, alone), [id, alone]);
  const catalogue = useCatalogue();
  const current = view?.visit.id === id ? view : view === null ? null : undefined;
  const judged = useMemo(() => (current && catalogue ? judge(current, catalogue) : undefined), [current, catalogue]);
  if (current === null) return null;
  return current && catalogue && judged ? { view: current, catalogue, judged } : undefined;
}
