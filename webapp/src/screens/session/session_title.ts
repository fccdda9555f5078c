// What to call a session: what the person typed, else its kind of venue and its place.
import type { Rec } from "../../store/store.ts";
import terms from "@catalogue/terms.json";

export function venueTitle(id: string | undefined): string | undefined {
  return terms.venue_kinds.find((one) => one.id === id)?.title;
}

export function sessionTitle(session: Rec, seller?: Rec): string {
  const { title, venue_kind, place } = session.values;
  if (title) return title as string;
  const where = (place as string | undefined) || (seller?.values["name"] as string | undefined);
  return [venueTitle(venue_kind) ?? "Sale", where].filter(Boolean).join(", ");
}
