// What a seller's entry says of itself, and what can be done with it: join, hand over, take off, erase.
import { useState } from "preact/hooks";
import { shareFile } from "../../device/share.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField } from "../../ui/field.tsx";
import { address, go } from "../../ui/route.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { today } from "../visit/today.ts";
import { JoinSheet } from "./merging.tsx";
import type { SellerView } from "./read_seller.ts";
import { NO_NAME, VENUES } from "./words.ts";

export function SellerFacts({ view: { seller }, text }: { view: SellerView; text: () => string }) {
  const store = useStore();
  const [joining, setJoining] = useState(false);
  const { id, values } = seller;
  // One just added wants a name first; typing it must not shut the part again.
  const [fresh] = useState(values["name"] === NO_NAME);
  const keep = (field: string, value: string) => {
    store.set("seller", id, { [field]: value }).catch((error: unknown) => tellFailure(error, () => keep(field, value)));
  };
  const remove = () => {
    store.remove("seller", id).then(() => {
      go("#/sellers");
      showToast({ words: "Seller taken off", undo: () => { store.set("seller", id, { deleted: false }).catch((error: unknown) => tellFailure(error)); } });
    }, (error: unknown) => tellFailure(error));
  };
  const hand = () => {
    shareFile(`barnlight-seller-${today()}.txt`, "text/plain", text()).then(
      (how) => { if (how === "saved") showToast({ words: "Saved among your downloads: private, not for others" }); },
      (error: unknown) => tellFailure(error, hand),
    );
  };
  return (
    <details class="fold" open={fresh}>
      <summary>Name, venue, place, note</summary>
      <div class="inside stack">
        <SavedField label="Name or handle" saved={values["name"] === NO_NAME ? "" : values["name"] ?? ""} max={120} onSave={(name) => keep("name", name)} />
        <PickField label="Kind of venue" value={values["venue_kind"] ?? "private"} options={VENUES.map((venue) => ({ value: venue.id, label: venue.title }))} onPick={(venue) => keep("venue_kind", venue)} />
        <SavedField label="Place" saved={values["place"] ?? ""} max={200} onSave={(place) => keep("place", place)} />
        <SavedField label="Note" hint="For you alone; never in a report" lines saved={values["note"] ?? ""} max={4000} onSave={(note) => keep("note", note)} />
        <Button icon="people" onClick={() => setJoining(true)}>The same person as another entry</Button>
        <Button icon="share" onClick={hand}>All that is noted of them, as a file</Button>
        <Button kind="danger" icon="bin" onClick={remove}>Take this seller off</Button>
        <Button kind="danger" href={address("/seller", id, "/erase")}>Erase them everywhere, for good</Button>
      </div>
      {joining && <JoinSheet seller={seller} onClose={() => setJoining(false)} />}
    </details>
  );
}
