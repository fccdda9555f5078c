// The person's price notes by their own groups: what such things usually sell for, and the ways in and out.
import { baseline } from "../../domain/price_baseline.ts";
import { trend } from "../../domain/price_trend.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { EmptyState, Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { useHabits } from "../ledger/habits.ts";
import { today } from "../visit/today.ts";
import { byGroup, type KeptNote, NO_GROUP, useNotes, useRates } from "./notes.ts";
import { saveTable } from "./table_file.ts";
import { baselineLine, currencyWords, priceCount } from "./words.ts";

const DIRECTIONS = { rising: "rising", falling: "falling", cannot_tell: null, too_few: null } as const;

export default function Prices() {
  const [notes, rates, habits] = [useNotes(), useRates(), useHabits()];
  const frame = { title: "Prices", over: "What things sell for, noted by you", back: "#/ledger", backWord: "Back to the ledger" };
  if (!notes || !rates || !habits) return <Screen {...frame}><Waiting /></Screen>;
  const { currency, half_life_days: halfLife } = habits;
  const share = () => {
    saveTable(notes, today()).then(
      (outcome) => { if (outcome !== "stopped") showToast({ words: outcome === "saved" ? "Saved among your downloads" : "Handed over" }); },
      (error: unknown) => tellFailure(error, share),
    );
  };
  const line = (group: string, some: readonly KeptNote[]) => {
    const base = baseline(some, currency, today(), halfLife, rates);
    const way = DIRECTIONS[trend(some, currency, rates).word];
    return (
      <li key={group}>
        <a class="line" href={address("/prices/group", { name: group })}>
          <Icon name="coin" />
          <span>
            <span class="name">{group || NO_GROUP}</span>
            <span class="under">{[baselineLine(base, currency), way].filter(Boolean).join(", ")}</span>
            <span class="under">{[priceCount(some.length), currencyWords(base, currency).left_out].filter(Boolean).join("; ")}</span>
          </span>
          <Icon name="onward" size="little" />
        </a>
      </li>
    );
  };
  return (
    <Screen {...frame} keepPlace="prices" foot={<Button wide kind="strong" icon="plus" href="#/prices/add">Note a price</Button>}>
      {notes.length === 0 && (
        <EmptyState icon="coin" title="No price noted yet" steps={[
          "Note what something sold for, wherever you see it.",
          "Call like things by one group, as “210 mm in a shutter”.",
          "From three sales on you are told the usual price, and how sure that is.",
        ]} />
      )}
      <ul class="lines">{byGroup(notes).map(([group, some]) => line(group, some))}</ul>
      <div class="row">
        <Button icon="copy" href="#/prices/paste">Paste lines or read a table</Button>
        {notes.length > 0 && <Button icon="share" onClick={share}>Save as a table</Button>}
        <Button icon="gear" href="#/prices/reckoning">Currency, rates, age of a sale</Button>
      </div>
      <p class="soft small">Only what was sold counts; asking prices are kept beside. These notes are yours alone and go into no report.</p>
    </Screen>
  );
}
