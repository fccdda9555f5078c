// Asks what was paid and when and what was in it, or why it was passed.
import { useState } from "preact/hooks";
import type { Money } from "../../domain/money.ts";
import { Button } from "../../ui/button.tsx";
import { Chips } from "../../ui/choices.tsx";
import { TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { MoneyField } from "../visit/money_field.tsx";
import { today } from "../visit/today.ts";

export const INCLUDED = [{ value: "premium", label: "Premium" }, { value: "tax", label: "Tax" }, { value: "freight", label: "Freight" }] as const;
const REASONS = ["Asked too much", "Too many faults", "Could not be tried", "Did not trust what was said", "Do not need it"];

/** What is wrong with a day that has to be past, in words; null if nothing. */
export function dayProblem(day: string, what: string): string | null {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(day)) return `Pick the day ${what}.`;
  return day > today() ? `The day ${what} lies in the future: pick today or earlier.` : null;
}

export interface DecisionSheetProps {
  bought: boolean;
  saved: { reason?: string; included?: string[]; paid?: Money | null; day?: string } | null;
  asked: Money | null;
  onDone: (fields: Record<string, unknown>, words: string) => void;
  onClose: () => void;
}

export function DecisionSheet({ bought, saved, asked, onDone, onClose }: DecisionSheetProps) {
  const [paid, setPaid] = useState<Money | null>(saved?.paid ?? null);
  const [day, setDay] = useState(saved?.day ?? today());
  const [included, setIncluded] = useState<readonly string[]>(saved?.included ?? []);
  const [reason, setReason] = useState(saved?.reason ?? "");
  const [wrong, setWrong] = useState<string | null>(null);
  const flip = (one: string) => setIncluded(included.includes(one) ? included.filter((other) => other !== one) : [...included, one]);
  const save = () => {
    const problem = dayProblem(day, bought ? "you bought it" : "you passed") ?? (bought && !paid ? "Type what you paid; if it was a gift, type 0." : null) ?? (!bought && reason.trim() === "" ? "Say why you passed: tap a reason or type your own." : null);
    setWrong(problem);
    if (problem) return;
    const decision = bought ? { bought, included: INCLUDED.map(({ value }) => value).filter((value) => included.includes(value)) } : { bought, reason: reason.trim() };
    onDone({ decision, paid: bought ? paid : null, day }, bought ? "Bought: kept" : "Passed: kept");
  };
  return (
    <Sheet title={bought ? "What did you pay?" : "Why did you pass?"} onClose={onClose}>
      {bought ? (
        <>
          <MoneyField label="Paid" saved={paid} onSave={setPaid} />
          {asked && !paid && <Button kind="quiet" onClick={() => setPaid(asked)}>What was asked</Button>}
          <Chips legend="What was in that sum" options={INCLUDED} chosen={included} onToggle={flip} />
        </>
      ) : (
        <>
          <Chips legend="A reason" options={REASONS.map((label) => ({ value: label, label }))} chosen={[reason]} onToggle={setReason} />
          <TextField label="In your own words" lines value={reason} max={400} onInput={setReason} />
        </>
      )}
      <TextField label="Day" kind="date" value={day} onInput={setDay} />
      {wrong && <p role="alert" class="wrong">{wrong}</p>}
      <Button kind="strong" wide onClick={save}>Keep it</Button>
    </Sheet>
  );
}
