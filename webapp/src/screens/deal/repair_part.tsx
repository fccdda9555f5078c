// Repairs of a piece: where each stands, how late it is, and what such work really cost, offered for the person's own table.
import { useState } from "preact/hooks";
import { showMoney } from "../../domain/money.ts";
import { repairDays, type Repair } from "../../domain/repair_costs.ts";
import { useStore } from "../../store/live.ts";
import { randomId } from "../../store/random_id.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { Versions } from "../history/versions.tsx";
import { today } from "../visit/today.ts";
import type { ReadyVisit } from "../visit/use_visit.ts";
import { dayWords } from "../visit/words.ts";
import { put } from "./put.ts";
import { RepairSheet } from "./repair_sheet.tsx";
import { RemedySheet, spanOfCost } from "./repair_table.tsx";
import type { After } from "./use_after.ts";

const days = (count: number): string => (count === 1 ? "1 day" : `${count} days`);

/** "With the repairer for 40 days; promised for 3 Nov 2026, 22 days late". */
export function repairWords(repair: Repair, now: string): string {
  const { state, away_days: away, late_days: late } = repairDays(repair, now);
  const promised = repair.promised ? `; promised for ${dayWords(repair.promised)}${late! > 0 ? `, ${days(late!)} late` : ""}` : "";
  if (state === "back") return `Back on ${dayWords(repair.back!)}${away === null ? "" : ` after ${days(away)}`}${late ? `, ${days(late)} later than promised` : ""}`;
  if (state === "away") return `With the repairer for ${days(away!)}${promised}`;
  return `Not sent yet${promised}`;
}

export function RepairPart({ ready: { view, catalogue }, after: { repairs, paid } }: { ready: ReadyVisit; after: After }) {
  const store = useStore();
  const [open, setOpen] = useState<{ id: string; values: Rec["values"] } | null>(null);
  const [figure, setFigure] = useState<string | null>(null);
  const title = (id: string | null | undefined) => catalogue.remedies.find((one) => one.id === id)?.title;
  const learned = paid.filter((one) => repairs.some(({ values }) => values["remedy"] === one.remedy));
  const remedy = catalogue.remedies.find(({ id }) => id === figure);
  return (
    <section class="stack" aria-labelledby="repairs">
      <h2 id="repairs">Repairs</h2>
      {repairs.length === 0 && <p class="soft">None noted yet.</p>}
      <ul class="lines">
        {repairs.map((one) => (
          <li key={one.id}>
            <Versions record={one.id} />
            <button type="button" class="line" onClick={() => setOpen(one)}>
              <Icon name="gear" />
              <span>
                <span class="name">{title(one.values["remedy"]) ?? (one.values["what"] || "Work not named")}</span>
                <span class="under figures">{repairWords(one.values, today())}</span>
                {one.values["cost"] && <span class="under figures">Cost {showMoney(one.values["cost"])}</span>}
              </span>
              <Icon name="pen" size="little" />
            </button>
          </li>
        ))}
      </ul>
      {learned.map((one) => (
        <div class="note tell" key={one.remedy + one.cost.currency}>
          <Icon name="info" />
          <div class="stack tight">
            <p class="figures">{title(one.remedy)}: {one.n === 1 ? "one of yours" : `${one.n} of yours`} cost {spanOfCost(one.cost)}.</p>
            <Button onClick={() => setFigure(one.remedy)}>My figure for it</Button>
          </div>
        </div>
      ))}
      <Button icon="plus" onClick={() => setOpen({ id: randomId(), values: {} })}>Note a repair</Button>
      {open && (
        <RepairSheet saved={open.values} remedies={catalogue.remedies} onClose={() => setOpen(null)}
          onDone={(fields) => { put(store, "repair", open.id, { piece: view.piece.id, ...fields, deleted: false }, "Repair kept"); setOpen(null); }}
          onTakeOff={open.values["piece"] ? () => { put(store, "repair", open.id, { deleted: true }, "Repair taken off"); setOpen(null); } : undefined} />
      )}
      {remedy && <RemedySheet remedy={remedy} own={view.costs.find((one) => one.values["remedy"] === remedy.id) ?? null} currency={learned.find((one) => one.remedy === remedy.id)?.cost.currency ?? "EUR"} paid={paid.filter((one) => one.remedy === remedy.id)} onClose={() => setFigure(null)} />}
    </section>
  );
}
