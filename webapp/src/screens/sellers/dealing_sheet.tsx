// How one deal went: one tap for the outcome, more only if the person wants to say more.
import { useState } from "preact/hooks";
import type { Rec } from "../../store/store.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice, Chips } from "../../ui/choices.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { today } from "../visit/today.ts";
import { FACETS, KNEW, OUTCOMES } from "./words.ts";

type Outcome = (typeof OUTCOMES)[number]["id"];
type Knew = (typeof KNEW)[number]["id"];

export function DealingSheet({ seller, sessions, onClose }: { seller: string; sessions: readonly Rec[]; onClose: () => void }) {
  const store = useStore();
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const [knew, setKnew] = useState<Knew>("not_known");
  const [good, setGood] = useState<readonly string[]>([]);
  const [bad, setBad] = useState<readonly string[]>([]);
  const [day, setDay] = useState(() => today());
  const [session, setSession] = useState(sessions[0]?.id ?? "");
  const [note, setNote] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);

  const flip = (list: readonly string[], id: string) => (list.includes(id) ? list.filter((one) => one !== id) : [...list, id]);
  const save = () => {
    if (outcome === null) {
      setWrong("Say first how it went: fair, mixed or unfair.");
      return;
    }
    if (!/^\d{4}-\d{2}-\d{2}$/.test(day) || day > today()) {
      setWrong("The day must be today or earlier.");
      return;
    }
    const facets = Object.fromEntries([...good.map((id) => [id, "yes"]), ...bad.map((id) => [id, "no"])]);
    store.create("dealing", { seller, session: session || null, piece: null, day, outcome, knew: outcome === "fair" ? "not_known" : knew, facets, note: note.trim() })
      .then(() => { showToast({ words: "Dealing noted" }); onClose(); }, (error: unknown) => tellFailure(error));
  };
  const facets = FACETS.map((facet) => ({ value: facet.id, label: facet.title }));

  return (
    <Sheet title="How did it go?" onClose={onClose}>
      <div class="stack">
        <BigChoice legend="Outcome" legendHidden options={OUTCOMES.map(({ id, title, hint }) => ({ value: id, label: title, hint }))} value={outcome} oneColumn onChoose={(one) => { setOutcome(one); setWrong(null); }} />
        {outcome !== null && outcome !== "fair" && (
          <BigChoice legend="Did they know?" options={KNEW.map(({ id, title, hint }) => ({ value: id, label: title, hint }))} value={knew} oneColumn onChoose={setKnew} />
        )}
        <Chips legend="What was good" options={facets.filter((facet) => !bad.includes(facet.value))} chosen={good} onToggle={(id) => setGood(flip(good, id))} />
        <Chips legend="What was not" options={facets.filter((facet) => !good.includes(facet.value))} chosen={bad} onToggle={(id) => setBad(flip(bad, id))} />
        <TextField label="Day" kind="date" value={day} onInput={setDay} />
        {sessions.length > 0 && (
          <PickField label="At" value={session} options={[{ value: "", label: "No sale in the book" }, ...sessions.map((one) => ({ value: one.id, label: one.values["title"] || one.values["day"] }))]} onPick={setSession} />
        )}
        <TextField label="Note" hint="For you alone" lines value={note} max={4000} onInput={setNote} />
        {wrong && <p role="alert" class="wrong">{wrong}</p>}
        <Button kind="strong" wide onClick={save}>Keep it</Button>
      </div>
    </Sheet>
  );
}
