// The book of sellers: who they are and how dealing with them went, found by any part of name or place.
import { useState } from "preact/hooks";
import { past } from "../../domain/sellers.ts";
import type { Rec } from "../../store/store.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { TextField } from "../../ui/field.tsx";
import { EmptyState, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { kept, plain } from "../visit/view.ts";
import { venueWord } from "./words.ts";

/** Everything a person might type to find this seller, in lower case. */
const findable = (seller: Rec) => [seller.values["name"], seller.values["place"], venueWord(seller.values["venue_kind"])].join(" ").toLowerCase();

export default function Sellers() {
  const store = useStore();
  const sellers = useLive((s) => s.byKind("seller"), []);
  const dealings = useLive((s) => s.byKind("dealing"), []);
  const [wanted, setWanted] = useState("");
  const words = wanted.toLowerCase().split(/\s+/).filter(Boolean);
  const shown = (sellers ?? []).filter(kept).filter((seller) => words.every((word) => findable(seller).includes(word)))
    .sort((a, b) => String(a.values["name"]).localeCompare(String(b.values["name"])));
  const known = (dealings ?? []).filter(kept).map(plain);

  const add = () => {
    store.create("seller", { name: wanted.trim() || "New seller", venue_kind: "private", place: "", note: "" })
      .then((id) => go(address("/seller", id)), (error: unknown) => tellFailure(error));
  };

  return (
    <Screen title="Sellers" back="#/" backWord="Back to the sales" foot={<Button kind="strong" icon="plus" wide onClick={add}>{wanted.trim() ? `Add “${wanted.trim()}”` : "Add a seller"}</Button>}>
      {sellers === undefined && <Waiting />}
      {sellers && (sellers.length > 0 || wanted !== "") && (
        <TextField label="Find" kind="search" value={wanted} onInput={setWanted} hint="Name, handle, place or kind of venue" />
      )}
      {sellers && (sellers).filter(kept).length === 0 && (
        <EmptyState icon="people" title="Nobody here yet" steps={[
          "A seller named in a sale is kept here by itself.",
          "After the deal, note how it went: fair, mixed or unfair.",
          "Next time you meet them, you are told before you deal.",
        ]} />
      )}
      {sellers && (sellers).filter(kept).length > 0 && shown.length === 0 && <p class="soft" role="status">No seller has all of these words.</p>}
      <ul class="lines">
        {shown.map((seller) => (
          <li key={seller.id}>
            <a class="line" href={address("/seller", seller.id)}>
              <Icon name="people" />
              <span>
                <span class="name">{seller.values["name"]}</span>
                <span class="under">{[venueWord(seller.values["venue_kind"]), seller.values["place"]].filter(Boolean).join(", ")}</span>
                <span class="under">{past(seller.id, known).line}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      <p class="soft small">This book is yours alone. No part of it ever goes into a report.</p>
    </Screen>
  );
}
