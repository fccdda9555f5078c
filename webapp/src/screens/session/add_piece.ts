// Puts a piece on the table: the piece itself, and the visit that looks at it in this session under its own letter.
import { moment } from "../../device/moment.ts";
import type { Store } from "../../store/store.ts";
import { nextTag } from "../visit/words.ts";

export interface NewPiece {
  kind: string;
  type: string | null;
  /** How many holders there are; asked for holders only. */
  count?: number;
}

/** Returns the id of the new visit. */
export async function addPiece(store: Store, session: string, { kind, type, count }: NewPiece): Promise<string> {
  const visits = await store.children(session, "visit");
  const tag = nextTag(visits.map((visit) => visit.values["tag"]));
  const piece = await store.create("piece", {
    kind,
    type,
    ...(count === undefined ? {} : { holders: { count, numbers: Array.from({ length: count }, (_, index) => String(index + 1)) } }),
  });
  return store.create("visit", { session, piece, occasion: "sale", tag, began: moment() });
}
