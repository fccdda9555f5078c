// Things that may fit each other: the kit on this phone, and the pieces of a session with what was last read of them.
import { useMemo } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import { asThing, type Facts, lastReadings } from "../../domain/kit_facts.ts";
import { useLive } from "../../store/live.ts";
import type { Rec, Store } from "../../store/store.ts";
import { pieceTitle } from "../visit/piece_title.ts";
import { kept, type OpenPiece, plain, type VisitView } from "../visit/view.ts";

type Reader = Pick<Store, "children">;

export interface NamedThing { readonly id: string; readonly kind: string; readonly facts: Facts; readonly title: string }

export const NOT_NAMED = "Not named";

export function kitThing(item: Rec): NamedThing {
  const { kind, title, facts } = item.values;
  return { id: item.id, kind: kind as string, facts: (facts as Facts | undefined) ?? {}, title: (title as string | undefined) || NOT_NAMED };
}

/** The person's own things; undefined while they are read. */
export function useKit(): NamedThing[] | undefined {
  return useLive(async (store) => (await store.byKind("kit_item")).filter(kept).map(kitThing).sort((a, b) => a.title.localeCompare(b.title)), []);
}

/** A piece as last known: its fields, and the last readings over all the looks at it; null for what has nothing to fit. */
async function pieceThing(store: Reader, piece: Rec | undefined, catalogue: Catalogue): Promise<NamedThing | null> {
  if (!piece) return null;
  const looks = (await store.children(piece.id, "visit")).filter(kept);
  const readings = await Promise.all(looks.map((look) => store.children(look.id, "reading")));
  const thing = asThing(plain(piece), lastReadings(readings.flat().filter(kept).map(({ values }) => values)), catalogue);
  return thing ? { ...thing, title: pieceTitle(piece) } : null;
}

/** Undefined while it is read; null for what has nothing to fit. */
export function usePieceThing(piece: Rec, catalogue: Catalogue): NamedThing | null | undefined {
  return useLive((store) => pieceThing(store, piece, catalogue), [piece, catalogue]);
}

/** The pieces of several looks, each once; undefined while they are read. */
export function useThings(open: readonly OpenPiece[], catalogue: Catalogue): NamedThing[] | undefined {
  return useLive(async (store) => {
    const pieces = new Map(open.map(({ piece }) => [piece?.id, piece]));
    const found = await Promise.all([...pieces.values()].map((piece) => pieceThing(store, piece, catalogue)));
    return found.filter((one) => one !== null);
  }, [open, catalogue]);
}

/** The other pieces on the table; undefined while they are read. */
export function useLot(view: VisitView, catalogue: Catalogue): NamedThing[] | undefined {
  const others = useMemo(() => view.open.filter(({ visit, piece }) => visit.id !== view.visit.id && piece?.id !== view.piece.id), [view]);
  return useThings(others, catalogue);
}
