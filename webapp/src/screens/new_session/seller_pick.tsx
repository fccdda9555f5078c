// Who sells: the likely ones from the book as one tap each, or a name typed.
import type { Rec } from "../../store/store.ts";
import { TextField } from "../../ui/field.tsx";
import { plainText } from "../sales/search.ts";

export interface SellerPickProps {
  sellers: readonly Rec[];
  venueKind: string;
  picked: string | null;
  typed: string;
  onPick: (seller: Rec | null) => void;
  onType: (name: string) => void;
}

/** More chips than this push the rest of the screen away; typing finds the others. */
const SHOWN = 6;

/** Sellers of this kind of venue first, then the rest; only those that hold what was typed. */
function likely(sellers: readonly Rec[], venueKind: string, typed: string): Rec[] {
  const wanted = plainText(typed.trim());
  const rank = (seller: Rec) => (venueKind && seller.values["venue_kind"] === venueKind ? 0 : 1);
  return sellers
    .filter((seller) => !seller.values["same_as"] && plainText(String(seller.values["name"] ?? "")).includes(wanted))
    .sort((a, b) => rank(a) - rank(b) || String(a.values["name"]).localeCompare(String(b.values["name"])));
}

export function SellerPick({ sellers, venueKind, picked, typed, onPick, onType }: SellerPickProps) {
  const found = likely(sellers, venueKind, typed);
  const chosen = sellers.find((seller) => seller.id === picked);
  const shown = chosen && !found.slice(0, SHOWN).includes(chosen) ? [chosen, ...found.slice(0, SHOWN - 1)] : found.slice(0, SHOWN);
  return (
    <fieldset class="stack">
      {shown.length > 0 && <legend class="label">Who sells?</legend>}
      {shown.length > 0 && (
        <div class="chips">
          {shown.map((seller) => (
            <button type="button" key={seller.id} class="chip" aria-pressed={seller.id === picked} onClick={() => onPick(seller.id === picked ? null : seller)}>
              {seller.values["name"] || "No name"}
            </button>
          ))}
        </div>
      )}
      <TextField label={shown.length > 0 ? "Or a name" : "Who sells?"} hint="Private: a seller is never in a report." value={typed} max={120} onInput={onType} />
    </fieldset>
  );
}
