// Everything a visit's screens show, read from the store in a few small queries by parent.
import type { Rec, Store } from "../../store/store.ts";

/** A record as plain data, the way the domain takes it. */
export type Plain = Record<string, any> & { id: string };

export interface OpenPiece { visit: Rec; piece: Rec | undefined }

export interface VisitView {
  visit: Rec;
  piece: Rec;
  session: Rec | undefined;
  /** Every visit of the session, by letter; this one among them. */
  open: OpenPiece[];
  answers: Rec[];
  /** Of the piece, from whichever visit: what was claimed from afar is checked at the unpacking. */
  claims: Rec[];
  readings: Rec[];
  photos: Rec[];
  takes: Rec[];
  /** The person's own figures for remedies. */
  costs: Rec[];
}

export const kept = (record: Rec): boolean => record.values["deleted"] !== true;

export const plain = (record: Rec): Plain => ({ id: record.id, ...record.values });

const byTag = (a: OpenPiece, b: OpenPiece): number => String(a.visit.values["tag"]).localeCompare(String(b.visit.values["tag"]));

/** The pieces looked at in a session, by letter. */
export async function openPieces(store: Store, session: string): Promise<OpenPiece[]> {
  const visits = (await store.children(session, "visit")).filter(kept);
  const open = await Promise.all(visits.map(async (visit) => ({ visit, piece: await store.get(visit.values["piece"]) })));
  return open.sort(byTag);
}

/**
 * Null when the visit or its piece is not on this phone. A list of many visits reads each `alone`, without the other
 * pieces on its table: otherwise n lines would read n² records.
 */
export async function loadVisit(store: Store, id: string, alone = false): Promise<VisitView | null> {
  const visit = await store.get(id);
  if (visit?.kind !== "visit" || !kept(visit)) return null;
  const session = visit.values["session"] as string | null | undefined;
  const [piece, children, claims, costs, open, home] = await Promise.all([
    store.get(visit.values["piece"]),
    store.children(id),
    store.children(visit.values["piece"], "claim"),
    store.byKind("remedy_cost"),
    session && !alone ? openPieces(store, session) : Promise.resolve([]),
    session ? store.get(session) : Promise.resolve(undefined),
  ]);
  if (!piece) return null;
  const of = (kind: string) => children.filter((record) => record.kind === kind && kept(record));
  return {
    visit, piece, session: home,
    open: open.length > 0 ? open : [{ visit, piece }],
    answers: of("answer"), claims: claims.filter(kept), readings: of("reading"), photos: of("photo"), takes: of("take"), costs: costs.filter(kept),
  };
}
