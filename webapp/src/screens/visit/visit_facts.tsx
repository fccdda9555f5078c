// Facts of this one looking: who looked and with what interest, a private note, and looking again later.
import { moment } from "../../device/moment.ts";
import { useStore } from "../../store/live.ts";
import { BigChoice } from "../../ui/choices.tsx";
import { address, go } from "../../ui/route.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { Versions } from "../history/versions.tsx";
import type { VisitView } from "./view.ts";
import { nextTag } from "./words.ts";

const AGAIN = [
  { value: "unpacking", label: "Unpacking", hint: "Bought from afar, just arrived" },
  { value: "after_repair", label: "After repair", hint: "Back from the bench" },
] as const;

export function VisitFacts({ view, setVisit }: { view: VisitView; setVisit: (fields: Record<string, unknown>) => void }) {
  const store = useStore();
  const { values } = view.visit;
  const again = (occasion: string) => {
    const tag = nextTag(view.open.map((one) => one.visit.values["tag"]));
    const begin = () => store.create("visit", { session: view.session?.id ?? null, piece: view.piece.id, occasion, tag, began: moment() })
      .then((id) => go(address("/visit", id)), (error: unknown) => tellFailure(error, () => void begin()));
    void begin();
  };
  return (
    <>
      <Versions record={view.visit.id} fields={["inspector", "note", "occasion", "temperature", "sample", "tag", "deleted"]} />
      <details class="fold">
        <summary><span class="grow">Who looked</span></summary>
        <div class="inside stack">
          <SavedField label="You, in one line for the report" hint="What you know of such things, and whether you are the one selling." saved={values["inspector"] ?? ""} max={200} onSave={(inspector) => setVisit({ inspector })} />
          <SavedField label="Private note" lines saved={values["note"] ?? ""} max={4000} onSave={(note) => setVisit({ note })} />
        </div>
      </details>
      <details class="fold">
        <summary><span class="grow">Look at it again</span></summary>
        <div class="inside stack">
          <p class="soft">Begins a fresh look at the same piece; this one stays as it is.</p>
          <BigChoice legend="Occasion" legendHidden options={AGAIN} onChoose={again} />
        </div>
      </details>
    </>
  );
}
