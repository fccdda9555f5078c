// Things that may fit each other: the kit on this phone, and the pieces of a session with what was read of them.
import type { Catalogue } from "../../domain/catalogue.ts";
import { asThing, type Facts } from "../../domain/kit_facts.ts";
import { useLive } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { pieceTitle } from "../visit/piece_title.ts";
import { kept, type OpenPiece, plain, type VisitView } from "../visit/view.ts";

export interface NamedThing { readonly id: string; readonly kind: string; readonly facts: Facts; readonly title: string }

export function kitThing(item: Rec): NamedThing {
  const { kind, title, facts } = item.values;
  return { id: item.id, kind: kind as string, facts: (facts as Facts | undefined) ?? {}, title: (title as string | undefined) || "Not named" };
}

/** The person's own things; undefined while they are read. */
export function useKit(): NamedThing[] | undefined {
  return useLive(async (store) => (await store.byKind("kit_item")).filter(kept).map(kitThing).sort((a, b) => a.title.localeCompare(b.title)), []);
}

/** A piece with its readings; null for what has nothing to fit. */
export function pieceThing({ piece }: Pick<OpenPiece, "piece">, readings: readonly Rec[], catalogue: Catalogue): NamedThing | null {
  const thing = piece && asThing(plain(piece), readings.map(({ values }) => values), catalogue);
  return thing ? { ...thing, title: pieceTitle(piece) } : null;
}

/** The other pieces on the table; undefined while they are read. */
export function useLot(view: VisitView, catalogue: Catalogue): NamedThing[] | undefined {
  const others = view.open.filter(({ visit }) => visit.id !== view.visit.id);
  return useLive(async (store) => {
    const found = await Promise.all(others.map(async (open) => pieceThing(open, (await store.children(open.visit.id, "reading")).filter(kept), catalogue)));
    return found.filter((one) => one !== null);
  }, [view, catalogue]);
}
