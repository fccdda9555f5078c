// Where typed depths are kept: as readings of a visit, or on this phone alone where there is no session.
import { useMemo } from "preact/hooks";
import { moment } from "../../device/moment.ts";
import type { Catalogue } from "../../domain/catalogue.ts";
import { places } from "../../domain/checks.ts";
import { readingId } from "../../domain/ids.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { Store } from "../../store/store.ts";
import { kept, type VisitView } from "../visit/view.ts";

export const DEPTH_CHECK = "holders.depth.sides";
const DEPTH_READING = "depth";
export const USUAL_COUNT = 10;

/** A figure as it was typed, with the tool it was read with (an id of the catalogue's instruments). */
export interface Typed { readonly text: string; readonly unit: "mm" | "in"; readonly tool: string }

export interface DepthBook {
  /** Places of all points, in the order they are asked for. */
  readonly order: readonly string[];
  readonly typed: ReadonlyMap<string, Typed>;
  /** Null takes a figure away. Resolves once it is kept. */
  readonly keep: (place: string, typed: Typed | null) => Promise<void>;
  readonly format: string | null;
  /** As in the piece; null at the bench, where the film is taken to lie on the divider. */
  readonly holders: { readonly registers_on?: string | null } | null;
}

export interface BenchDepths { format: string | null; count: number; points: Record<string, Typed> }

export const NOTHING_TYPED: BenchDepths = { format: "4x5", count: USUAL_COUNT, points: {} };

function orderOf(piece: Record<string, any>, catalogue: Catalogue): string[] {
  const check = catalogue.checks.find((one) => one.id === DEPTH_CHECK)!;
  return places({ axes: [...new Set([...check.axes, ...check.readings[0]!.axes])] }, piece);
}

export function useVisitBook(view: VisitView, catalogue: Catalogue): DepthBook {
  const store = useStore();
  return useMemo(() => {
    const found = view.readings.filter(({ values }) => values["check"] === DEPTH_CHECK && values["reading"] === DEPTH_READING && values["typed"]);
    const typed = new Map(found.map(({ values }) => [values["place"] as string, {
      text: values["typed"].text as string, unit: values["typed"].unit as "mm" | "in", tool: (values["instrument"]?.kind as string | undefined) ?? "ruler",
    }]));
    const { format = null, holders = null } = view.piece.values;
    return {
      order: orderOf({ holders: view.piece.values["holders"] }, catalogue), typed, format, holders,
      keep: (place, one) => keepReading(store, view.visit.id, place, one, catalogue),
    };
  }, [view, catalogue, store]);
}

async function keepReading(store: Store, visit: string, place: string, typed: Typed | null, { terms }: Catalogue): Promise<void> {
  const id = readingId(visit, DEPTH_CHECK, place, DEPTH_READING);
  const known = await store.get(id);
  if (!typed) {
    if (known && kept(known)) await store.set("reading", id, { deleted: true });
    return;
  }
  const resolution_mm = terms.instruments.find((one) => one.id === typed.tool)?.resolution_mm ?? null;
  await store.set("reading", id, {
    visit, check: DEPTH_CHECK, place, reading: DEPTH_READING, typed: { text: typed.text, unit: typed.unit },
    instrument: { kind: typed.tool, resolution_mm }, at: moment(), ...(known && !kept(known) ? { deleted: false } : {}),
  });
}

/** Undefined while it is read. `change` makes format and count from what is kept by then. */
export function useBenchBook(catalogue: Catalogue | undefined): { book: DepthBook; bench: BenchDepths; change: (make: (held: BenchDepths) => Partial<BenchDepths>) => Promise<void> } | undefined {
  const store = useStore();
  const bench = useLive(async (from) => (await from.meta.get("bench_depths")) ?? NOTHING_TYPED, []);
  return useMemo(() => {
    if (!bench || !catalogue) return undefined;
    const change = (make: (held: BenchDepths) => Partial<BenchDepths>) => store.meta.change("bench_depths", (held = NOTHING_TYPED) => ({ ...held, ...make(held) }));
    const keep = (place: string, typed: Typed | null) => change(({ points: { [place]: _, ...others } }) => ({ points: typed ? { ...others, [place]: typed } : others }));
    const order = orderOf({ holders: { count: bench.count } }, catalogue);
    return { bench, change, book: { order, typed: new Map(Object.entries(bench.points).filter(([place]) => order.includes(place))), keep, format: bench.format, holders: null } };
  }, [bench, catalogue, store]);
}
