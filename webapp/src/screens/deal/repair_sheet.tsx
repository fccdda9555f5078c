// One repair: what for, at whose bench, when it went and came, what was promised and what it cost.
import { useState } from "preact/hooks";
import type { Remedy } from "../../domain/catalogue.ts";
import type { Money } from "../../domain/money.ts";
import { repairDays } from "../../domain/repair_costs.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { MoneyField } from "../visit/money_field.tsx";
import { today } from "../visit/today.ts";

const DOUBTS = {
  promised_before_sent: "The promised day lies before the day it was sent: check both.",
  back_before_sent: "It cannot be back before it was sent: check both days.",
  in_future: "Sent and back are days that have been: for a day to come, use “promised for”.",
} as const;

export interface RepairSheetProps {
  saved: Record<string, any>;
  remedies: readonly Remedy[];
  onDone: (fields: Record<string, unknown>) => void;
  onTakeOff?: () => void;
  onClose: () => void;
}

export function RepairSheet({ saved, remedies, onDone, onTakeOff, onClose }: RepairSheetProps) {
  const [remedy, setRemedy] = useState<string>(saved["remedy"] ?? "");
  const [what, setWhat] = useState<string>(saved["what"] ?? "");
  const [who, setWho] = useState<string>(saved["who"] ?? "");
  const [sent, setSent] = useState<string>(saved["sent"] ?? "");
  const [promised, setPromised] = useState<string>(saved["promised"] ?? "");
  const [back, setBack] = useState<string>(saved["back"] ?? "");
  const [cost, setCost] = useState<Money | null>(saved["cost"] ?? null);
  const [wrong, setWrong] = useState<string | null>(null);
  const save = () => {
    const doubt = repairDays({ sent, promised, back }, today()).doubts[0];
    const problem = doubt ? DOUBTS[doubt] : remedy === "" && what.trim() === "" ? "Say what it is for: pick a repair or type what is done." : null;
    setWrong(problem);
    if (!problem) onDone({ remedy: remedy || null, what: what.trim(), who: who.trim(), sent: sent || null, promised: promised || null, back: back || null, cost });
  };
  return (
    <Sheet title="A repair" onClose={onClose}>
      <PickField label="Repair" value={remedy} options={[{ value: "", label: "Another one" }, ...remedies.map((one) => ({ value: one.id, label: one.title }))]} onPick={setRemedy} />
      <TextField label="What was done" hint="Goes into the report." value={what} max={2000} onInput={setWhat} />
      <TextField label="Who does it" hint="For you alone." value={who} max={120} onInput={setWho} />
      <TextField label="Sent" kind="date" value={sent} onInput={setSent} />
      <TextField label="Promised for" kind="date" value={promised} onInput={setPromised} />
      <TextField label="Back" kind="date" value={back} onInput={setBack} />
      <MoneyField label="What it cost" hint="For you alone." saved={cost} onSave={setCost} />
      {wrong && <p role="alert" class="wrong">{wrong}</p>}
      <Button kind="strong" wide onClick={save}>Keep it</Button>
      {onTakeOff && <Button kind="danger" icon="bin" onClick={onTakeOff}>Take this repair off</Button>}
    </Sheet>
  );
}
