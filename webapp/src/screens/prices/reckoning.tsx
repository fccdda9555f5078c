// How prices are reckoned: the usual currency, how fast a sale ages, how long a want rests, and the person's own rates of exchange.
import { useState } from "preact/hooks";
import { majorRate, parseRate } from "../../domain/exchange.ts";
import { fixed } from "../../domain/rounding.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { moneyHabitsId } from "../../domain/ids.ts";
import { type Habits, saveHabits, useHabits } from "../ledger/habits.ts";
import { today } from "../visit/today.ts";
import { dayWords } from "../visit/words.ts";
import { currencyOptions } from "./add.tsx";
import { type KeptRate, useRates } from "./notes.ts";
import { HALF_LIVES } from "./words.ts";
import "./prices.css";

const RESTS = [0, 7, 14, 30, 60, 90];

export default function Reckoning() {
  const store = useStore();
  const [habits, rates] = [useHabits(), useRates()];
  const frame = { title: "How it is reckoned", over: "Prices and wants", back: "#/prices", backWord: "Back to the prices" };
  if (!habits || !rates) return <Screen {...frame}><Waiting /></Screen>;
  const save = (changed: Partial<Habits>) => { saveHabits(store, changed).catch((error: unknown) => tellFailure(error, () => save(changed))); };
  const halfLife = String(habits.half_life_days ?? "");
  return (
    <Screen {...frame}>
      <Versions record={moneyHabitsId()} />
      <PickField label="Usual currency" hint="Prices in others are counted by your rates, and left out without one" value={habits.currency} options={currencyOptions(habits.currency)} onPick={(currency) => save({ currency })} />
      <PickField label="How fast a sale ages" value={halfLife} options={HALF_LIVES.some(({ value }) => value === halfLife) ? HALF_LIVES : [...HALF_LIVES, { value: halfLife, label: `After ${halfLife} days a sale weighs half` }]}
        onPick={(days) => save({ half_life_days: days === "" ? null : Number(days) })} />
      <PickField label="How long a want rests" hint="After that you are asked whether it still stands" value={String(habits.rest_days)} options={[...new Set([...RESTS, habits.rest_days])].map((days) => ({ value: String(days), label: days === 0 ? "Not at all" : `${days} days` }))}
        onPick={(days) => save({ rest_days: Number(days) })} />
      <section class="stack" aria-labelledby="rates">
        <h2 id="rates">Rates of exchange</h2>
        <p class="soft small">Each is typed by you, with its day. A price is turned by the last rate up to its own day, else by the first after it.</p>
        <ul class="lines">{rates.map((rate) => <RateLine key={rate.id} rate={rate} />)}</ul>
        <NewRate key={habits.currency} usual={habits.currency} />
      </section>
    </Screen>
  );
}

/** As many decimals as a rate needs to be read back as it was typed. */
function rateWords({ from, to, minor_per_minor: factor }: KeptRate): string {
  if (!from || !to || !factor) return "A rate another phone has only half told";
  return `1 ${from} is ${fixed(majorRate(factor, from, to), 6).replace(/\.?0+$/, "")} ${to}`;
}

function RateLine({ rate }: { rate: KeptRate }) {
  const store = useStore();
  const remove = () => {
    store.remove("exchange_rate", rate.id).then(
      () => showToast({ words: `Taken off: ${rateWords(rate)}`, undo: () => { store.set("exchange_rate", rate.id, { deleted: false }).catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error, remove),
    );
  };
  return (
    <li class="line two">
      <span>
        <Versions record={rate.id} />
        <span class="name">{rateWords(rate)}</span>
        <span class="under">{dayWords(rate.day)}</span>
      </span>
      <Button kind="bare" icon="bin" label={`Take off: ${rateWords(rate)}`} onClick={remove} />
    </li>
  );
}

function NewRate({ usual }: { usual: string }) {
  const store = useStore();
  const [from, setFrom] = useState(usual === "USD" ? "EUR" : "USD");
  const [text, setText] = useState("");
  const [day, setDay] = useState(today());
  const [wrong, setWrong] = useState<{ rate?: string; day?: string }>({});
  const add = () => {
    if (!day || day > today()) {
      setWrong({ day: "Set today or an earlier day." });
      return;
    }
    try {
      const factor = parseRate(text, from, usual);
      setWrong({});
      store.create("exchange_rate", { from, to: usual, minor_per_minor: factor, day }).then(() => setText(""), (error: unknown) => tellFailure(error, add));
    } catch (error) {
      setWrong({ rate: (error as Error).message });
    }
  };
  return (
    <div class="card stack">
      <PickField label="1 of" value={from} options={currencyOptions(from).filter(({ value }) => value !== usual)} onPick={setFrom} />
      <TextField label={`is how many ${usual}`} keyboard="decimal" max={20} value={text} wrong={wrong.rate} onInput={setText} />
      <TextField label="On the day" kind="date" value={day} wrong={wrong.day} onInput={setDay} />
      <Button icon="plus" onClick={add}>Add the rate</Button>
    </div>
  );
}
