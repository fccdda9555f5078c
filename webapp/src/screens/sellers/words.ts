// The catalogue's words for venues, outcomes of a dealing and its facets.
import terms from "@catalogue/terms.json";

export interface Term { id: string; title: string; hint: string }

export const VENUES = terms.venue_kinds as readonly Term[];
export const OUTCOMES = terms.dealing_outcomes as readonly (Term & { id: "fair" | "mixed" | "unfair" })[];
export const FACETS = terms.facets as readonly Term[];
export const KNEW = terms.knew as readonly (Term & { id: "did_not_know" | "hid_it" | "not_known" })[];

/** What somebody is called until a name is typed. */
export const NO_NAME = "New seller";

export const venueWord = (id: string | undefined): string => VENUES.find((venue) => venue.id === id)?.title ?? "";
