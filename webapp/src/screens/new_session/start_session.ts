// Begins a session; everything but the moment is optional, because minutes are short at a sale.
import { moment } from "../../device/moment.ts";
import type { Store } from "../../store/store.ts";

/** Kinds of venue where the piece is not in the room, so claims come before looks. */
const FROM_AFAR = ["online_shop", "social_group", "private_forum"];

export const isFromAfar = (venueKind: string): boolean => FROM_AFAR.includes(venueKind);

export interface NewSession {
  venueKind: string;
  /** Id of a seller in the book, or none. */
  seller: string | null;
  /** A name typed just now; becomes a seller in the book. */
  sellerName: string;
  place: string;
  day: string;
  asking: { minor: number; currency: string } | null;
  remote: boolean;
}

/** Returns the id of the new session. */
export async function startSession(store: Store, given: NewSession): Promise<string> {
  const name = given.sellerName.trim();
  const seller = given.seller ?? (name === "" ? null : await store.create("seller", { name, ...(given.venueKind && { venue_kind: given.venueKind }), place: given.place.trim() }));
  return store.create("session", {
    ...(given.venueKind && { venue_kind: given.venueKind }),
    seller,
    place: given.place.trim(),
    day: given.day,
    began: moment(),
    asking: given.asking,
    remote: given.remote,
  });
}
