// An amount of money with its currency: typed as people write it, kept in the smallest unit.
import { useEffect, useRef, useState } from "preact/hooks";
import { decimals, parseMoney, type Money } from "../../domain/money.ts";
import { useLive, useStore } from "../../store/live.ts";
import { PickField, TextField } from "../../ui/field.tsx";

/** The currencies offered; one already in a record is offered too. */
const CURRENCIES = ["EUR", "USD", "GBP", "CHF", "CAD", "AUD", "JPY", "SEK", "NOK", "DKK", "PLN", "CZK"];

export interface MoneyFieldProps { label: string; hint?: string; saved: Money | null; onSave: (money: Money | null) => void }

/** The amount as it is typed again: major units with a point. */
function typedText(money: Money | null): string {
  if (!money) return "";
  const digits = decimals(money.currency);
  return (money.minor / 10 ** digits).toFixed(money.minor % 10 ** digits === 0 ? 0 : digits);
}

function isMoney(typed: string, currency: string): boolean {
  try {
    return Boolean(parseMoney(typed, currency));
  } catch {
    return false;
  }
}

export function MoneyField({ label, hint, saved, onSave }: MoneyFieldProps) {
  const [draft, setDraft] = useState<string | null>(null);
  const typing = useRef(false);
  const store = useStore();
  const usual = useLive((from) => from.meta.get("currency"), []);
  const currency = saved?.currency ?? usual ?? CURRENCIES[0]!;
  const [wrong, setWrong] = useState<string | null>(null);
  const text = draft ?? typedText(saved);
  const follow = () => {
    setDraft(null);
    setWrong(null);
  };
  // What was typed stands until it is saved, also when saving failed; an amount from another tab or phone waits for the typing to end.
  useEffect(() => { if (!typing.current) follow(); }, [saved?.minor, saved?.currency]);
  const take = (typed: string, as: string) => {
    const empty = typed.trim() === "";
    try {
      const money = empty ? null : parseMoney(typed, as);
      setWrong(null);
      if (money?.minor !== saved?.minor || money?.currency !== saved?.currency) onSave(money);
      else if (!typing.current) follow();
    } catch (error) {
      setWrong(error instanceof Error ? error.message : "Type an amount, as in 120 or 89.50.");
    }
  };
  return (
    <div class="money-room"><div class="money">
      <TextField label={label} hint={hint} keyboard="decimal" max={20} value={text} wrong={wrong}
        onInput={(typed) => { typing.current = true; setDraft(typed); }}
        onPause={(typed) => { if (isMoney(typed, currency)) take(typed, currency); }}
        onDone={(typed) => { typing.current = false; take(typed, currency); }} />
      <PickField label="Currency" value={currency} options={[...new Set([currency, ...CURRENCIES])].map((code) => ({ value: code, label: code }))} onPick={(code) => { void store.meta.set("currency", code); take(text, code); }} />
    </div></div>
  );
}
