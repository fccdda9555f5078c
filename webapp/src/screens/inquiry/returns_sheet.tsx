// What the seller says about sending it back: whether, within how many days, and who pays.
import { useState } from "preact/hooks";
import type { Returns } from "../../domain/inquiry.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { today } from "../visit/today.ts";

export type SaidReturns = Returns & { words?: string; day?: string };

const ALLOWED = [
  { value: "yes", label: "Yes", hint: "It may go back" },
  { value: "no", label: "No", hint: "Sold as it is" },
  { value: "not_said", label: "No clear answer", hint: "Counts as no answer" },
] as const;
const PAYS = [{ value: "not_said", label: "Not said" }, { value: "seller", label: "The seller" }, { value: "buyer", label: "You" }];

export function ReturnsSheet({ saved, words: pasted, onSave, onClose }: { saved: SaidReturns | null; words: string; onSave: (returns: SaidReturns) => void; onClose: () => void }) {
  const [allowed, setAllowed] = useState(saved?.allowed ?? null);
  const [days, setDays] = useState(saved?.days ? String(saved.days) : "");
  const [pays, setPays] = useState<string>(saved?.pays ?? "not_said");
  const [words, setWords] = useState(saved?.words || pasted);
  const [wrong, setWrong] = useState<string | null>(null);
  const save = () => {
    if (allowed === null) return setWrong("Say first whether it may go back.");
    const count = /^\d{1,3}$/.test(days.trim()) ? Number(days) : 0;
    if (days.trim() !== "" && (count < 1 || count > 365)) return setWrong("Type the days as a number from 1 to 365, or leave them empty.");
    onSave({ allowed, days: allowed === "yes" && count > 0 ? count : null, pays: pays as "seller" | "buyer" | "not_said", words: words.trim(), day: today() });
  };
  return (
    <Sheet title="May it come back?" onClose={onClose}>
      <BigChoice legend="What they say" legendHidden options={ALLOWED} value={allowed} oneColumn onChoose={(one) => { setAllowed(one); setWrong(null); }} />
      {allowed === "yes" && <TextField label="Within how many days of its arrival" keyboard="numeric" value={days} max={3} onInput={(text) => { setDays(text); setWrong(null); }} />}
      {allowed === "yes" && <PickField label="Who pays the way back" value={pays} options={PAYS} onPick={setPays} />}
      <TextField label="In their words (private)" lines value={words} max={2000} onInput={setWords} />
      <p class="soft small">Local law may give you more: this keeps only what was said.</p>
      {wrong && <p role="alert" class="wrong">{wrong}</p>}
      <Button kind="strong" wide onClick={save}>Keep it</Button>
    </Sheet>
  );
}
