// One seller: what is known of them and every dealing in time, newest first.
import { useState } from "preact/hooks";
import { past } from "../../domain/sellers.ts";
import type { Rec } from "../../store/store.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { MarkShape } from "../../ui/mark.tsx";
import { PickField } from "../../ui/field.tsx";
import { ErrorNote, Note, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { dayWords } from "../visit/words.ts";
import { DealingSheet } from "./dealing_sheet.tsx";
import { kept, plain } from "../visit/view.ts";
import { FACETS, KNEW, OUTCOMES, VENUES } from "./words.ts";

export default function Seller({ params }: ScreenInput) {
  const store = useStore();
  const id = params["seller"]!;
  // An answer of null says that the phone looked and found nothing.
  const seller = useLive(async (s) => (await s.get(id)) ?? null, [id]);
  const children = useLive((s) => s.children(id), [id]);
  const [adding, setAdding] = useState(false);

  if (seller === undefined || children === undefined) return <Screen title="Seller" back="#/sellers"><Waiting /></Screen>;
  if (seller === null || seller.values["deleted"]) {
    return (
      <Screen title="Seller" back="#/sellers">
        <ErrorNote what="This seller is not on this phone." todo="Go back to the list; if another phone added them, they come with the next sync." />
      </Screen>
    );
  }

  const { values } = seller;
  const keep = (field: string, value: string) => {
    store.set("seller", id, { [field]: value }).catch((error: unknown) => tellFailure(error));
  };
  const remove = () => {
    store.remove("seller", id).then(() => {
      go("#/sellers");
      showToast({ words: "Seller taken off", undo: () => { store.set("seller", id, { deleted: false }).catch((error: unknown) => tellFailure(error)); } });
    }, (error: unknown) => tellFailure(error));
  };
  const dealings = children.filter((child) => child.kind === "dealing" && kept(child)).sort(byDayBackwards);
  const sessions = children.filter((child) => child.kind === "session" && kept(child)).sort(byDayBackwards);
  const summary = past(id, dealings.map(plain));

  return (
    <Screen title={values["name"] || "Seller"} back="#/sellers" backWord="Back to the sellers" foot={<Button kind="strong" icon="plus" wide onClick={() => setAdding(true)}>Note a dealing</Button>}>
      <Note tone={summary.unfair > 0 || summary.hid_it > 0 ? "care" : "tell"}><p>{summary.line}</p></Note>
      <section class="stack" aria-label="Dealings">
        <h2>Dealings</h2>
        {dealings.length === 0 && <p class="soft">None noted yet.</p>}
        <ul class="lines">{dealings.map((dealing) => <DealingLine key={dealing.id} dealing={dealing} />)}</ul>
      </section>
      {sessions.length > 0 && (
        <section class="stack" aria-label="Sales">
          <h2>Met at</h2>
          <ul class="lines">
            {sessions.map((session) => (
              <li key={session.id}>
                <a class="line" href={address("/session", session.id)}>
                  <Icon name="barn" />
                  <span><span class="name">{session.values["title"] || "A sale"}</span><span class="under">{dayWords(session.values["day"])}</span></span>
                </a>
              </li>
            ))}
          </ul>
        </section>
      )}
      <Versions record={id} />
      <details class="fold">
        <summary>Name, venue, place, note</summary>
        <div class="inside stack">
          <SavedField label="Name or handle" saved={values["name"] ?? ""} max={120} onSave={(text) => keep("name", text)} />
          <PickField label="Kind of venue" value={values["venue_kind"] ?? "private"} options={VENUES.map((venue) => ({ value: venue.id, label: venue.title }))} onPick={(venue) => keep("venue_kind", venue)} />
          <SavedField label="Place" saved={values["place"] ?? ""} max={200} onSave={(text) => keep("place", text)} />
          <SavedField label="Note" hint="For you alone; never in a report" lines saved={values["note"] ?? ""} max={4000} onSave={(text) => keep("note", text)} />
          <Button kind="danger" icon="bin" onClick={remove}>Take this seller off</Button>
          <Button kind="danger" href={address("/seller", id, "/erase")}>Erase them everywhere, for good</Button>
        </div>
      </details>
      {adding && <DealingSheet seller={id} sessions={sessions} onClose={() => setAdding(false)} />}
    </Screen>
  );
}

const TONES = { fair: "good", mixed: "worn", unfair: "bad" } as const;

const byDayBackwards = (a: Rec, b: Rec) => String(b.values["day"]).localeCompare(String(a.values["day"]));

function DealingLine({ dealing }: { dealing: Rec }) {
  const store = useStore();
  const { values } = dealing;
  const outcome = OUTCOMES.find((one) => one.id === values["outcome"]);
  const knew = values["outcome"] === "fair" ? undefined : KNEW.find((one) => one.id === values["knew"] && one.id !== "not_known");
  const said = FACETS.flatMap((facet) => {
    const word = values["facets"]?.[facet.id];
    return word === "yes" || word === "no" ? [`${facet.title}: ${word}`] : [];
  });
  const remove = () => {
    store.remove("dealing", dealing.id).then(
      () => showToast({ words: "Dealing taken off", undo: () => { store.set("dealing", dealing.id, { deleted: false }).catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error),
    );
  };
  return (
    <li class="line">
      <MarkShape tone={TONES[values["outcome"] as keyof typeof TONES] ?? "none"} />
      <span>
        <Versions record={dealing.id} />
        <span class="name">{[outcome?.title, dayWords(values["day"])].filter(Boolean).join(", ")}{knew && ` (${knew.title.toLowerCase()})`}</span>
        {values["note"] && <span class="under">{values["note"]}</span>}
        {said.length > 0 && <span class="under">{said.join(" · ")}</span>}
      </span>
      <Button kind="bare" icon="bin" label="Take this dealing off" onClick={remove} />
    </li>
  );
}
