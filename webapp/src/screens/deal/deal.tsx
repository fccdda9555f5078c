// What one piece may cost: hidden until held, what drives it, which look is worth its seconds, and every figure behind it.
import type { Money } from "../../domain/money.ts";
import { showMoney } from "../../domain/money.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { Versions } from "../history/versions.tsx";
import { Missing } from "../visit/missing.tsx";
import { MoneyField } from "../visit/money_field.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useVisit } from "../visit/use_visit.ts";
import { Ceiling } from "./ceiling.tsx";
import { Checking } from "./checking.tsx";
import { Drives } from "./drives.tsx";
import { MissingFigures } from "./missing_figures.tsx";
import { OnTop } from "./on_top.tsx";
import { put } from "./put.ts";
import { Rates } from "./rates.tsx";
import { RepairTable } from "./repair_table.tsx";
import { saveTerms } from "./save_terms.ts";
import { useReckoned } from "./use_deal.ts";
import { ValuePart } from "./value_part.tsx";

export default function Deal({ params }: ScreenInput) {
  const id = params["visit"]!;
  const store = useStore();
  const ready = useVisit(id, { alone: true });
  const found = useReckoned(ready?.view, ready?.catalogue);
  if (ready === null) return <Missing />;
  if (!ready || !found) return <Waiting />;
  const { view, catalogue } = ready;
  const { deal, asking, currency, sheet, ledger } = found;
  const keep = (fields: Record<string, unknown>, words?: string) => saveTerms(store, deal, { piece: view.piece.id, session: found.session }, currency, fields, words);
  return (
    <Screen keepPlace={`deal ${id}`} title="Deal sheet" over={pieceTitle(view.piece)} back={address("/visit", id)} backWord="Back to the piece"
      foot={<div class="two"><Button icon="page" href={address("/visit", id, "/talk")}>Show the seller</Button><Button icon="coin" href={address("/visit", id, "/after")}>Bought or passed</Button></div>}
    >
      <Versions record={deal.id} />
      <Versions record={view.visit.id} fields={["asking"]} />
      <section class="card lit stack" aria-labelledby="ceiling">
        <h2 id="ceiling">So, buy or not?</h2>
        <p class="figures">{asking ? `Asked: ${showMoney(asking)}` : "No price asked yet."}</p>
        <Ceiling figures={sheet} buy={found.buy} currency={currency} />
      </section>
      <MissingFigures found={found} asking={asking} />
      {sheet.examples && <p class="soft small">Some repair figures are examples that come with Barnlight; put in your own below as you learn them.</p>}
      <Checking visit={id} sheet={sheet} />
      <Drives sheet={sheet} />
      <section class="stack tight" aria-labelledby="behind">
        <h2 id="behind">The figures behind it</h2>
        <details class="fold">
          <summary><span class="grow">Price asked</span></summary>
          <div class="inside"><MoneyField label="Asking price of this piece" saved={asking} onSave={(money: Money | null) => put(store, "visit", id, { asking: money })} /></div>
        </details>
        <ValuePart found={found} keep={keep} />
        <RepairTable sheet={sheet} catalogue={catalogue} costs={view.costs} currency={currency} />
        <OnTop deal={deal} habits={ledger.habits} currency={currency} keep={keep} />
        <Rates key={currency} ledger={ledger} deal={deal} currency={currency} keep={keep} />
      </section>
    </Screen>
  );
}
