// Everything looked for: open wants with how long they have waited, how long such things take, what was found or let go.
import { useState } from "preact/hooks";
import { rest } from "../../domain/wants.ts";
import { waitChart } from "../../domain/wait_chart.ts";
import { showMoney } from "../../domain/money.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { Icon } from "../../ui/icon.tsx";
import { EmptyState, Note, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { useHabits } from "../ledger/habits.ts";
import { useGroups } from "../prices/notes.ts";
import { today } from "../visit/today.ts";
import { dayWords } from "../visit/words.ts";
import { isOpen, type KeptWant, useWants, waitingOf } from "./wants.ts";
import { WaitPlot } from "./wait_plot.tsx";
import { chanceWords, countWords, medianWords, sinceWords } from "./words.ts";

/** Weeks for which the chance is told without asking. */
const WEEKS = [2, 4, 8, 12, 26, 52];

export default function Wants() {
  const [wants, habits, groups] = [useWants(), useHabits(), useGroups()];
  const [adding, setAdding] = useState(false);
  const frame = { title: "Wants", over: "What you look for", back: "#/ledger", backWord: "Back to the ledger" };
  if (!wants || !habits || !groups) return <Screen {...frame}><Waiting /></Screen>;
  const open = wants.filter(isOpen);
  const ended = wants.filter((want) => !isOpen(want)).reverse();
  return (
    <Screen {...frame} keepPlace="wants" foot={<Button wide kind="strong" icon="plus" onClick={() => setAdding(true)}>Want something</Button>}>
      {wants.length === 0 && (
        <EmptyState icon="search" title="Nothing looked for yet" steps={[
          "Write down what you look for, the most you would pay, and why.",
          "It rests for two weeks; then you are asked whether it still stands.",
          "When it turns up, say so: in time you learn how long such things take.",
        ]} />
      )}
      <ul class="lines">{open.map((want) => <WantLine key={want.id} want={want} restDays={habits.rest_days} />)}</ul>
      {wants.length > 0 && <HowLong wants={wants} />}
      {ended.length > 0 && (
        <details class="fold">
          <summary>Found or let go: {ended.length}</summary>
          <div class="inside"><ul class="lines">{ended.map((want) => <WantLine key={want.id} want={want} restDays={habits.rest_days} />)}</ul></div>
        </details>
      )}
      {adding && <NewWant groups={groups} onClose={() => setAdding(false)} />}
    </Screen>
  );
}

function WantLine({ want, restDays }: { want: KeptWant; restDays: number }) {
  const resting = rest(want, today(), restDays);
  const state = want.found ? `found ${dayWords(want.found)}` : want.dropped ? `let go ${dayWords(want.dropped)}` : resting && resting.days_left > 0 ? `rests until ${dayWords(resting.until)}` : null;
  const waited = isOpen(want) && want.wanted ? `waited ${sinceWords(want.wanted, today())}` : null;
  return (
    <li>
      <a class="line" href={address("/want", want.id)}>
        <Icon name={want.found ? "tick" : want.dropped ? "cross" : "search"} />
        <span>
          <span class="name">{want.what || "Not named"}</span>
          <span class="under">{[waited, state, want.most && `at most ${showMoney(want.most)}`].filter(Boolean).join(", ")}</span>
          {resting?.ask && <span class="under"><strong>Does it still stand?</strong></span>}
        </span>
        <Icon name="onward" size="little" />
      </a>
    </li>
  );
}

function HowLong({ wants }: { wants: readonly KeptWant[] }) {
  const [group, setGroup] = useState("");
  const groups = [...new Set(wants.flatMap((want) => (want.group ? [want.group] : [])))].sort((a, b) => a.localeCompare(b));
  const waiting = waitingOf(group === "" ? wants : wants.filter((want) => want.group === group), today());
  const chart = waitChart(waiting.steps, waiting.waits);
  const words = `${medianWords(waiting)} ${countWords(waiting)}.`;
  return (
    <section class="stack" aria-labelledby="how-long">
      <h2 id="how-long">How long it takes</h2>
      {groups.length > 0 && <PickField label="Of which group" value={group} options={[{ value: "", label: "All wants" }, ...groups.map((name) => ({ value: name, label: name }))]} onPick={setGroup} />}
      <p>{words}</p>
      {waiting.found > 0 && chart && (
        <>
          <WaitPlot chart={chart} title={`Share of ${group || "all wants"} that had turned up, by weeks of waiting`} words={`${words} The chances stand in the table below.`} />
          <table class="figure-table">
            <caption>Chance that one turns up</caption>
            <tbody>{WEEKS.map((weeks) => <tr key={weeks}><th scope="row">within {weeks} weeks</th><td>{chanceWords(waiting, weeks)}</td></tr>)}</tbody>
          </table>
          <Note tone="tell"><p class="small">Wants still open or let go count as long as they were watched. The chances hold if the next want is like these.</p></Note>
        </>
      )}
    </section>
  );
}

function NewWant({ groups, onClose }: { groups: readonly string[]; onClose: () => void }) {
  const store = useStore();
  const [what, setWhat] = useState("");
  const [group, setGroup] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const add = () => {
    if (what.trim() === "") {
      setWrong("Say what you look for.");
      return;
    }
    store.create("want", { what: what.trim(), group: group.trim(), wanted: today() }).then((id) => go(address("/want", id)), (error: unknown) => tellFailure(error, add));
  };
  return (
    <Sheet title="What do you look for?" onClose={onClose}>
      <TextField label="What it is" max={120} value={what} wrong={wrong} onInput={setWhat} />
      <TextField label="Group" hint="The same names as for prices" max={80} suggestions={groups} value={group} onInput={setGroup} />
      <Button kind="strong" wide icon="tick" onClick={add}>Put it on the list</Button>
    </Sheet>
  );
}
