// An amount in the deal's own currency, or a share in percent: typed as people write it, refused in words, saved by itself.
import { useState } from "preact/hooks";
import { decimals, parseMoney } from "../../domain/money.ts";
import { SavedField } from "../../ui/saved_field.tsx";

interface Asked { label: string; hint?: string }

/** Major units with a point, as it is typed again; "" for none. */
export function amountText(minor: number | null | undefined, currency: string): string {
  if (minor === null || minor === undefined) return "";
  const digits = decimals(currency);
  return (minor / 10 ** digits).toFixed(minor % 10 ** digits === 0 ? 0 : digits);
}

export function AmountField({ label, hint, currency, saved, onSave }: Asked & { currency: string; saved: number | null | undefined; onSave: (minor: number | null) => void }) {
  return <CheckedField label={`${label}, ${currency}`} hint={hint} saved={amountText(saved, currency)} read={(text) => parseMoney(text, currency).minor} onSave={onSave} />;
}

/** `most`: the largest percentage that makes sense. */
export function PercentField({ label, hint, saved, most, onSave }: Asked & { saved: number | null | undefined; most: number; onSave: (share: number | null) => void }) {
  const text = saved === null || saved === undefined ? "" : String(Math.round(saved * 1e5) / 1e3);
  return <CheckedField label={`${label}, %`} hint={hint} saved={text} read={(typed) => percentOf(typed, most)} onSave={onSave} />;
}

export function percentOf(typed: string, most: number): number {
  const text = typed.replace("%", "").replace(",", ".").trim();
  const value = /^\d{1,3}(?:\.\d{1,3})?$/.test(text) ? Number(text) : Number.NaN;
  if (!(value <= most)) throw new RangeError(`Type a percentage from 0 to ${most}, as in 20 or 7.5.`);
  return Math.round(value * 1e3) / 1e5;
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
