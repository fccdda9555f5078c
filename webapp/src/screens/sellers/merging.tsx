// Two entries of one seller told as one, and apart again; each keeps its own notes.
import { useState } from "preact/hooks";
import { head } from "../../domain/seller_fairness.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { go, address } from "../../ui/route.ts";
import { kept } from "../visit/view.ts";
import { findSellers } from "./find.ts";
import { entriesOf } from "./read_seller.ts";
import { venueWord } from "./words.ts";

const SHOWN = 12;

/** Joins `seller` to another entry, whose page is then opened. */
export function JoinSheet({ seller, onClose }: { seller: Rec; onClose: () => void }) {
  const store = useStore();
  const [wanted, setWanted] = useState("");
  const sellers = useLive((from) => from.byKind("seller"), []) ?? [];
  const entries = entriesOf(sellers);
  const others = findSellers(wanted, sellers.filter((one) => kept(one) && head(one.id, entries) === one.id && one.id !== seller.id));
  const apart = () => store.set("seller", seller.id, { same_as: null }).then(() => go(address("/seller", seller.id)), (error: unknown) => tellFailure(error));
  const join = (other: Rec) => {
    store.set("seller", seller.id, { same_as: other.id }).then(() => {
      onClose();
      go(address("/seller", other.id));
      showToast({ words: `Told together with ${other.values["name"] || "the other"}`, undo: () => void apart() });
    }, (error: unknown) => tellFailure(error, () => join(other)));
  };
  return (
    <Sheet title="Same person as…" onClose={onClose}>
      <p class="soft">Both are told as one from then on. Nothing is lost, and they can be taken apart again.</p>
      <TextField label="Find" kind="search" value={wanted} onInput={setWanted} hint="Name, handle, place or kind of venue" />
      {others.length === 0 && <p class="soft" role="status">No other seller has all of these words.</p>}
      <ul class="lines">
        {others.slice(0, SHOWN).map((other) => (
          <li key={other.id} class="line same">
            <span class="who"><span class="name">{other.values["name"]}</span><span class="under">{[venueWord(other.values["venue_kind"]), other.values["place"]].filter(Boolean).join(", ")}</span></span>
            <Button label={`The same as ${other.values["name"]}`} onClick={() => join(other)}>The same</Button>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}

/** The other entries of this seller, each with the way to take it apart. */
export function JoinedEntries({ others }: { others: readonly Rec[] }) {
  const store = useStore();
  if (others.length === 0) return null;
  const apart = ({ id, values }: Rec) => {
    const before = values["same_as"];
    store.set("seller", id, { same_as: null }).then(
      () => showToast({ words: `${values["name"] || "The entry"} stands by itself again`, undo: () => { store.set("seller", id, { same_as: before }).catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error),
    );
  };
  return (
    <section class="stack tight" aria-label="Also known as">
      <h2>Also known as</h2>
      <ul class="lines">
        {others.map((one) => (
          <li key={one.id} class="line">
            <span />
            <span><span class="name">{one.values["name"]}</span><span class="under">{[venueWord(one.values["venue_kind"]), one.values["place"]].filter(Boolean).join(", ")}</span></span>
            <Button label={`Take apart: ${one.values["name"]}`} onClick={() => apart(one)}>Apart</Button>
          </li>
        ))}
      </ul>
    </section>
  );
}
