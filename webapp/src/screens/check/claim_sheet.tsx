// Somebody's word about a check: kept as a claim with its kind of evidence, never as something seen.
import { useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { BigChoice, Chips } from "../../ui/choices.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";

export interface ClaimWords { by: string; evidence: string; words: string; faults: string[] }

export interface ClaimSheetProps {
  /** What is claimed, as in "In order". */
  claimed: string;
  /** Faults to pick from when the claim is of a fault. */
  faults: readonly { id: string; title: string }[];
  evidence: readonly { id: string; title: string; hint?: string }[];
  onDone: (claim: ClaimWords) => void;
  onClose: () => void;
}

const BY = [
  { value: "seller", label: "The seller" },
  { value: "earlier_owner", label: "An earlier owner" },
  { value: "repairer", label: "A repairer" },
  { value: "other", label: "Somebody else" },
];

export function ClaimSheet({ claimed, faults, evidence, onDone, onClose }: ClaimSheetProps) {
  const [by, setBy] = useState("seller");
  const [words, setWords] = useState("");
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [kind, setKind] = useState<string | null>(null);
  const ready = kind !== null && (faults.length === 0 || chosen.length > 0);
  return (
    <Sheet title={`Claimed: ${claimed.toLowerCase()}`} onClose={onClose}>
      <p class="soft">A claim is kept beside what you see and never counts as seen.</p>
      {faults.length > 0 && (
        <Chips legend="Which fault is named" options={faults.map((fault) => ({ value: fault.id, label: fault.title }))} chosen={chosen}
          onToggle={(fault) => setChosen(chosen.includes(fault) ? chosen.filter((one) => one !== fault) : [...chosen, fault])} />
      )}
      <BigChoice legend="What stands behind it" options={evidence.map(({ id, title, hint }) => ({ value: id, label: title, hint }))} value={kind} onChoose={setKind} />
      <PickField label="Who says so" value={by} options={BY} onPick={setBy} />
      <TextField label="In their words (private)" lines value={words} max={2000} onInput={setWords} />
      <Button kind="strong" wide disabled={!ready} onClick={() => kind && onDone({ by, evidence: kind, words: words.trim(), faults: [...chosen] })}>
        {ready ? "Keep the claim" : "Pick what stands behind it"}
      </Button>
    </Sheet>
  );
}
