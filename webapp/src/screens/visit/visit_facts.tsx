// Facts of this one looking: who looked and with what interest, a private note, and looking again later.
import { useState } from "preact/hooks";
import { moment } from "../../device/moment.ts";
import { useStore } from "../../store/live.ts";
import { BigChoice } from "../../ui/choices.tsx";
import { TextField } from "../../ui/field.tsx";
import { address, go } from "../../ui/route.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
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
      <details class="fold">
        <summary><span class="grow">Who looked</span></summary>
        <div class="inside stack">
          <Saved label="You, in one line for the report" hint="What you know of such things, and whether you are the one selling." saved={values["inspector"] ?? ""} max={200} onSave={(inspector) => setVisit({ inspector })} />
          <Saved label="Private note" lines saved={values["note"] ?? ""} max={4000} onSave={(note) => setVisit({ note })} />
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

function Saved({ label, hint, saved, max, lines, onSave }: { label: string; hint?: string; saved: string; max: number; lines?: boolean; onSave: (text: string) => void }) {
  const [text, setText] = useState(saved);
  return <TextField label={label} hint={hint} lines={lines} value={text} max={max} onInput={setText} onDone={(typed) => { if (typed !== saved) onSave(typed); }} />;
}
