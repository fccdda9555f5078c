// An amount in the deal's own currency, or a share in percent: typed as people write it, refused in words, saved by itself.
import { useState } from "preact/hooks";
import { parseMoney } from "../../domain/money.ts";
import { SavedField } from "../../ui/saved_field.tsx";
import { amountText, readPercent } from "./typed.ts";

interface Asked { label: string; hint?: string }

export function AmountField({ label, hint, currency, saved, onSave }: Asked & { currency: string; saved: number | null | undefined; onSave: (minor: number | null) => void }) {
  return <CheckedField label={`${label}, ${currency}`} hint={hint} saved={amountText(saved, currency)} read={(text) => parseMoney(text, currency).minor} onSave={onSave} />;
}

/** `most`: the largest percentage that makes sense. */
export function PercentField({ label, hint, saved, most, onSave }: Asked & { saved: number | null | undefined; most: number; onSave: (share: number | null) => void }) {
  const text = saved === null || saved === undefined ? "" : String(Math.round(saved * 1e5) / 1e3);
  return <CheckedField label={`${label}, %`} hint={hint} saved={text} read={(typed) => readPercent(typed, most)} onSave={onSave} />;
}

function CheckedField({ label, hint, saved, read, onSave }: Asked & { saved: string; read: (text: string) => number; onSave: (value: number | null) => void }) {
  const [wrong, setWrong] = useState<string | null>(null);
  const take = (typed: string) => {
    const text = typed.trim();
    try {
      const value = text === "" ? null : read(text);
      setWrong(null);
      onSave(value);
    } catch (error) {
      setWrong(error instanceof Error ? error.message : "Type a number.");
    }
  };
  return <SavedField label={label} hint={hint} keyboard="decimal" max={20} saved={saved} wrong={wrong} onSave={take} />;
}
