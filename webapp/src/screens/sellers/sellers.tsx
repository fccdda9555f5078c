// The book of sellers: the surest first, by the lower end of how fair they were; found by any part of name, handle or place.
import { useState } from "preact/hooks";
import { head, rankedSellers, type SellerEntry } from "../../domain/seller_fairness.ts";
import type { Dealing } from "../../domain/sellers.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { TextField } from "../../ui/field.tsx";
import { EmptyState, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { kept, plain } from "../visit/view.ts";
import { fairWords } from "./fair_words.ts";
import { findSellers } from "./find.ts";
import { entriesOf } from "./read_seller.ts";
import { NO_NAME, venueWord } from "./words.ts";

export default function Sellers() {
  const store = useStore();
  const read = useLive(async (from) => ({ sellers: (await from.byKind("seller")).filter(kept), dealings: (await from.byKind("dealing")).filter(kept) }), []);
  const [wanted, setWanted] = useState("");
  const sellers = read?.sellers ?? [];
  const entries = entriesOf(sellers);
  const ranked = rankedSellers(Object.values(entries), (read?.dealings ?? []).map((one) => plain(one) as Dealing & SellerEntry));
  const byId = new Map(sellers.map((one) => [one.id, one]));
  const heads = ranked.flatMap((one) => byId.get(one.seller) ?? []);
  const figures = new Map(ranked.map((one) => [one.seller, one]));
  const othersOf = (id: string) => sellers.filter((one) => one.id !== id && head(one.id, entries) === id);
  const shown = findSellers(wanted, heads, (one) => othersOf(one.id));

  const add = () => {
    store.create("seller", { name: wanted.trim() || NO_NAME, venue_kind: "private", place: "", note: "" })
      .then((id) => go(address("/seller", id)), (error: unknown) => tellFailure(error, add));
  };

  return (
    <Screen title="Sellers" back="#/ledger" backWord="Back to the ledger" foot={<Button kind="strong" icon="plus" wide onClick={add}>{wanted.trim() ? `Add “${wanted.trim()}”` : "Add a seller"}</Button>}>
      {!read && <Waiting />}
      {read && (heads.length > 0 || wanted !== "") && (
        <TextField label="Find" kind="search" value={wanted} onInput={setWanted} hint="Name, handle, place or kind of venue" />
      )}
      {read && heads.length === 0 && (
        <EmptyState icon="people" title="Nobody here yet" steps={[
          "A seller named in a sale is kept here by itself.",
          "After the deal, note how it went: fair, mixed or unfair.",
          "Next time you meet them, you are told before you deal.",
        ]} />
      )}
      {heads.length > 0 && shown.length === 0 && <p class="soft" role="status">No seller has all of these words.</p>}
      <ol class="lines">
        {shown.map((seller) => (
          <li key={seller.id}>
            <a class="line" href={address("/seller", seller.id)}>
              <Icon name="people" />
              <span>
                <span class="name">{[seller, ...othersOf(seller.id)].map(({ values }) => values["name"]).filter(Boolean).join(" · ") || "No name"}</span>
                <span class="under">{[venueWord(seller.values["venue_kind"]), seller.values["place"]].filter(Boolean).join(", ")}</span>
                <span class="under">{fairWords(figures.get(seller.id)!)}</span>
              </span>
              <Icon name="onward" />
            </a>
          </li>
        ))}
      </ol>
      {heads.length > 1 && <p class="soft small">Ordered by the lower end of the range, so that one good deal does not outrank twenty. Few dealings are pulled toward what is usual for that kind of venue in your own log; a mixed dealing counts half.</p>}
      <p class="soft small">This book is yours alone. No part of it ever goes into a report.</p>
    </Screen>
  );
}
