// Exchange rates that the person types, with their day: nothing is converted without one.
import { useState } from "preact/hooks";
import { majorRate, parseRate } from "../../domain/exchange.ts";
import { useStore } from "../../store/live.ts";
import { randomId } from "../../store/random_id.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { currencyOptions } from "../prices/add.tsx";
import { dayWords } from "../visit/words.ts";
import { put } from "./put.ts";
import { type Keep, termsIn } from "./save_terms.ts";
import type { DealRecord, Ledger } from "./use_deal.ts";

interface RatesProps { ledger: Ledger; deal: DealRecord; currency: string; keep: Keep }

export function Rates({ ledger, deal, currency, keep }: RatesProps) {
  const { rates, day } = ledger;
  const store = useStore();
  const [unrated, setUnrated] = useState<string | null>(null);
  const [from, setFrom] = useState(currency === "USD" ? "EUR" : "USD");
  const [text, setText] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const reckonIn = (to: string) => {
    const turned = termsIn(deal.terms, to, ledger);
    setUnrated(turned ? null : `Figures of this deal were typed in ${currency}: type a rate between ${currency} and ${to} first.`);
    if (turned) keep(turned, `Reckoned in ${to}`);
  };
  const keepRate = () => {
    try {
      const minor_per_minor = parseRate(text, from, currency);
      setWrong(null);
      setText("");
      put(store, "exchange_rate", randomId(), { from, to: currency, minor_per_minor, day, deleted: false }, "Rate kept");
    } catch (error) {
      setWrong((error as RangeError).message);
    }
  };
  return (
    <details class="fold">
      <summary><span class="grow">Currency and rates</span><span class="soft small">{rates.length}</span></summary>
      <div class="inside stack">
        <PickField label="Reckon in" value={currency} wrong={unrated} options={currencyOptions(currency)} onPick={reckonIn} />
        <p class="soft">Nothing is converted by itself: type the rate you believe in. The latest one up to a price's day counts.</p>
        {rates.length > 0 && (
          <ul class="sums">
            {rates.map((one) => (
              <li key={one.id}>
                <span class="figures">1 {one.from} = {rateText(one)} {one.to}, {dayWords(one.day)}</span>
                <Button kind="bare" icon="bin" label={`Take off the rate of ${one.from} to ${one.to}`} onClick={() => put(store, "exchange_rate", one.id, { deleted: true }, "Rate taken off")} />
              </li>
            ))}
          </ul>
        )}
        <PickField label="From" value={from} options={currencyOptions(from).filter(({ value }) => value !== currency)} onPick={setFrom} />
        <TextField label={`1 ${from} is how many ${currency}?`} keyboard="decimal" max={20} value={text} wrong={wrong} onInput={setText} />
        <Button onClick={keepRate}>Keep this rate, as of today</Button>
      </div>
    </details>
  );
}

function rateText({ from = "", to = "", minor_per_minor: rate = 0 }: Ledger["rates"][number]): string {
  return String(Number(majorRate(rate, from, to).toPrecision(6)));
}
