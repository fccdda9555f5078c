// One group of prices: the usual price with its doubt, the plot, working against faulty, kinds of venue, and every note.
import type { Baseline } from "../../domain/price_baseline.ts";
import { showMoney } from "../../domain/money.ts";
import { Button } from "../../ui/button.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { useHabits } from "../ledger/habits.ts";
import { venueWord } from "../sellers/words.ts";
import { today } from "../visit/today.ts";
import { sumsOf } from "./group_sums.ts";
import { NO_GROUP, useNotes, useRates } from "./notes.ts";
import { PricePlot } from "./price_plot.tsx";
import { baselineDoubt, baselineLine, currencyWords, halfLifeWords, moneyWords, noteUnder, priceCount, sales, STATES, trendLine } from "./words.ts";
import "./prices.css";

export default function Group({ query }: ScreenInput) {
  const name = query["name"] ?? "";
  const [notes, rates, habits] = [useNotes(), useRates(), useHabits()];
  const frame = { title: name || NO_GROUP, over: "Prices", back: "#/prices", backWord: "Back to the prices", keepPlace: `prices ${name}` };
  if (!notes || !rates || !habits) return <Screen {...frame}><Waiting /></Screen>;
  const mine = notes.filter((note) => (note.group ?? "") === name);
  const { currency } = habits;
  const { base, states, venues, trend, chart } = sumsOf(mine, habits, today(), rates);
  const { converted, left_out: leftOut } = currencyWords(base, currency);
  const said = [`${baselineLine(base, currency)}.`, trendLine(trend)];
  return (
    <Screen {...frame} foot={<Button wide kind="strong" icon="plus" href={address("/prices/add", { group: name })}>Note a price</Button>}>
      {name === "" && mine.length > 0 && <Note tone="care"><p>Things of all kinds stand here together, so their middle means little. Open a note and give it a group.</p></Note>}
      <section class="card lit stack tight" aria-label="What it comes to">
        <p class="name">{said[0]}</p>
        {baselineDoubt(base, currency).map((one) => <p key={one} class="small">{one}</p>)}
        <p>{said[1]}</p>
        {converted && <p class="small">{converted}</p>}
        <p class="small soft">{halfLifeWords(habits.half_life_days)}</p>
      </section>
      {leftOut && <Note tone="care"><p>{leftOut}</p><div class="row"><Button href="#/prices/reckoning">Type a rate</Button></div></Note>}
      {chart && <PricePlot chart={chart} currency={currency} sure={trend.word !== "cannot_tell"} title={`Prices of ${name || "things without a group"} over time, in ${currency}`} words={`${said.join(" ")} Every price stands in the list below.`} />}
      {base.count > 0 && (
        <FigureTable caption="Working against faulty" currency={currency}
          rows={STATES.map(({ value, label }) => [label, states[value]] as const).filter(([, found]) => found.count > 0)} />
      )}
      {venues.length > 0 && <FigureTable caption="By kind of venue" currency={currency} rows={venues.map(({ venue_kind: kind, baseline: found }) => [venueWord(kind) || "Not said", found] as const)} />}
      <section class="stack tight" aria-labelledby="all">
        <h2 id="all">{priceCount(mine.length)}</h2>
        <ul class="lines">
          {mine.map((note) => (
            <li key={note.id}>
              <a class="line two" href={address("/price", note.id)}>
                <span>
                  <span class="name">{note.what || "Not named"}</span>
                  <span class="under">{[noteUnder(note), venueWord(note.venue_kind)].filter(Boolean).join(", ")}</span>
                </span>
                <span class="figure figures">{moneyWords(note.price)}</span>
              </a>
            </li>
          ))}
        </ul>
      </section>
    </Screen>
  );
}

function FigureTable({ caption, currency, rows }: { caption: string; currency: string; rows: readonly (readonly [string, Baseline])[] }) {
  const middle = (base: Baseline) => (base.too_few ? "too few to say" : showMoney({ minor: base.median_minor!, currency }));
  return (
    <table class="figure-table">
      <caption>{caption}</caption>
      <tbody>
        {rows.map(([label, base]) => (
          <tr key={label}>
            <th scope="row">{label}<br /><span class="small soft">{sales(base.count)}</span></th>
            <td><strong>{middle(base)}</strong>{!base.too_few && <><br /><span class="small soft">{showMoney({ minor: base.low_minor!, currency })} to {showMoney({ minor: base.high_minor!, currency })}, {Math.floor(base.coverage! * 100)} %</span></>}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
