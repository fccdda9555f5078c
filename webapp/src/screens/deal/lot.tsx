// What a whole lot may cost: the values of its pieces less their costs, hidden until held, each piece leading to its own sheet.
import type { Money } from "../../domain/money.ts";
import { showMoney } from "../../domain/money.ts";
import { useStore } from "../../store/live.ts";
import { EmptyState, Note, Waiting } from "../../ui/notes.tsx";
import { Icon } from "../../ui/icon.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { Tag } from "../../ui/tag.tsx";
import { Versions } from "../history/versions.tsx";
import { sessionTitle } from "../session/session_title.ts";
import { Missing } from "../visit/missing.tsx";
import { MoneyField } from "../visit/money_field.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { Ceiling } from "./ceiling.tsx";
import { OnTop } from "./on_top.tsx";
import { put } from "./put.ts";
import { Rates } from "./rates.tsx";
import { saveTerms } from "./save_terms.ts";
import { useLot } from "./use_lot.ts";
import { about } from "./words.ts";

export default function Lot({ params }: ScreenInput) {
  const id = params["session"]!;
  const store = useStore();
  const found = useLot(id);
  if (found === null) return <Missing what="session" />;
  if (!found) return <Waiting />;
  const { session, asking, ledger, deal, currency, lot, buy, pieces, unrated } = found;
  const keep = (fields: Record<string, unknown>, words?: string) => saveTerms(store, deal, { session: id }, currency, fields, words);
  return (
    <Screen keepPlace={`lot ${id}`} title="Deal sheet of the lot" over={sessionTitle(session)} back={address("/session", id)} backWord="Back to the session">
      <Versions record={deal.id} />
      <Versions record={id} fields={["asking"]} />
      <section class="card lit stack" aria-labelledby="ceiling">
        <h2 id="ceiling">So, buy the lot or not?</h2>
        <p class="figures">{asking ? `Asked for the lot: ${showMoney(asking)}` : "No price asked for the lot yet."}</p>
        <Ceiling figures={lot} buy={buy} currency={currency}>
          {pieces.filter(({ sum }) => sum.value_minor !== null).map(({ open, sum }) => <p key={open.visit.id} class="figures small">{open.visit.values["tag"]} is worth about {about(sum.value_minor!, currency)}</p>)}
        </Ceiling>
      </section>
      {pieces.length === 0 && <EmptyState icon="box" title="Nothing in the lot yet" steps={["Put the pieces on the table in the session.", "Say on each deal sheet what a working one is worth."]} />}
      {(lot.missing.length > 0 || unrated) && (
        <Note tone="care" title="Missing">
          {lot.missing.length > 0 && <p>{lot.missing.length === 1 ? "One piece has" : `${lot.missing.length} pieces have`} no value yet and {lot.missing.length === 1 ? "counts" : "count"} for nothing: open {lot.missing.length === 1 ? "its" : "their"} deal sheet and type one.</p>}
          {unrated && <p>Some figures are not in {currency} and are left out: type a rate below.</p>}
        </Note>
      )}
      <ul class="lines">
        {pieces.map(({ open, sum }) => (
          <li key={open.visit.id}>
            <a class="line" href={address("/visit", open.visit.id, "/deal")}>
              <Tag letter={open.visit.values["tag"]} />
              <span>
                <span class="name">{pieceTitle(open.piece)}</span>
                <span class="under figures">{sum.value_minor === null && "value not known; "}repairs and wait about {about(sum.costs_minor, currency)}</span>
                {sum.value_minor !== null && !sum.counts && <span class="under">Costs more than it is worth: counts for nothing.</span>}
              </span>
              <Icon name="onward" size="little" />
            </a>
          </li>
        ))}
      </ul>
      <section class="stack tight" aria-labelledby="behind">
        <h2 id="behind">The figures behind it</h2>
        <p class="soft small">Freight, travel and margin count once for the lot; those of single pieces are left aside.</p>
        <details class="fold">
          <summary><span class="grow">Price asked</span></summary>
          <div class="inside"><MoneyField label="Price for the whole lot" saved={asking} onSave={(money: Money | null) => put(store, "session", id, { asking: money })} /></div>
        </details>
        <OnTop deal={deal} habits={ledger.habits} currency={currency} keep={keep} />
        <Rates key={currency} ledger={ledger} deal={deal} currency={currency} keep={keep} />
      </section>
    </Screen>
  );
}
