// Finds sellers by any part of a name, handle, place or kind of venue.
import type { Rec } from "../../store/store.ts";
import { plainText } from "../sales/search.ts";
import { venueWord } from "./words.ts";

const textOf = ({ values }: Rec): string => plainText([values["name"], values["place"], venueWord(values["venue_kind"])].filter(Boolean).join(" "));

/** Those whose texts, with those of `also` (their other entries), hold every word; in the given order. */
export function findSellers(query: string, sellers: readonly Rec[], also: (seller: Rec) => readonly Rec[] = () => []): Rec[] {
  const words = plainText(query).split(/\s+/).filter(Boolean);
  return sellers.filter((seller) => {
    const text = [seller, ...also(seller)].map(textOf).join("\n");
    return words.every((word) => text.includes(word));
  });
}
