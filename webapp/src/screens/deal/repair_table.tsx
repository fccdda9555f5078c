// What each repair in question costs, at the person's own figures where there are some; edited right here.
import { useState } from "preact/hooks";
import type { Catalogue, CostSpan, Remedy } from "../../domain/catalogue.ts";
import type { DealSheet } from "../../domain/deal_sheet.ts";
import { remedyCostId } from "../../domain/ids.ts";
import { showMoney } from "../../domain/money.ts";
import { type RepairCost, repairCosts } from "../../domain/repair_costs.ts";
import { useLive, useStore } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Button } from "../../ui/button.tsx";
import { TextField } from "../../ui/field.tsx";
import { Sheet } from "../../ui/sheet.tsx";
import { Versions } from "../history/versions.tsx";
import { kept, plain } from "../visit/view.ts";
import { put } from "./put.ts";
import { SpanForm } from "./span_form.tsx";
import { readWeeks } from "./typed.ts";
import { chanceWords } from "./words.ts";

interface RepairTableProps { sheet: DealSheet; catalogue: Catalogue; costs: readonly Rec[]; currency: string }

export const spanOfCost = ({ low_minor, likely_minor, high_minor, currency }: CostSpan): string => {
  const [low, likely, high] = [low_minor, likely_minor, high_minor].map((minor) => showMoney({ minor, currency }));
  return low === high ? likely! : `${likely} (${low} to ${high})`;
};

export function RepairTable({ sheet, catalogue, costs, currency }: RepairTableProps) {
  const [editing, setEditing] = useState<Remedy | null>(null);
  const paid = useLive(async (from) => repairCosts((await from.byKind("repair")).filter(kept).map(plain)), []);
  const rows = sheet.drives.flatMap((drive) => {
    const remedy = catalogue.remedies.find(({ id }) => id === drive.id);
    return remedy && (drive.kind === "fault" || drive.kind === "unseen") ? [{ drive, remedy, own: costs.find((one) => one.values["remedy"] === remedy.id && one.values["cost"]) }] : [];
  });
  const own = editing && costs.find((one) => one.values["remedy"] === editing.id);
  return (
    <details class="fold">
      <summary><span class="grow">Repairs in question</span><span class="soft small">{rows.length}</span></summary>
      <div class="inside stack">
        {rows.length === 0 && <p class="soft">No repair is called for, and none might be.</p>}
        <ul class="stack">
          {rows.map(({ drive, remedy, own: figure }) => (
            <li key={remedy.id} class="stack tight">
              {figure && <Versions record={figure.id} />}
              <span><strong>{remedy.title}</strong>{drive.kind === "unseen" && <span class="soft">, if it is called for ({chanceWords(drive.chance)})</span>}</span>
              <span class="figures">{spanOfCost(figure?.values["cost"] ?? remedy.cost)}{remedy.charged_per !== "piece" && `, each ${remedy.charged_per}`} <span class="soft">{figure ? "your figure" : remedy.example ? "example" : ""}</span></span>
              <Button icon="pen" label={`Your figure for: ${remedy.title}`} onClick={() => setEditing(remedy)}>Your figure</Button>
            </li>
          ))}
        </ul>
      </div>
      {editing && <RemedySheet remedy={editing} own={own ?? null} currency={currency} paid={paid?.filter(({ remedy }) => remedy === editing.id) ?? []} onClose={() => setEditing(null)} />}
    </details>
  );
}

interface RemedySheetProps { remedy: Remedy; own: Rec | null; currency: string; paid: readonly RepairCost[]; onClose: () => void }

/** One remedy's figure in the person's own table. What was really paid is offered, never taken silently. */
export function RemedySheet({ remedy, own, currency, paid, onClose }: RemedySheetProps) {
  const store = useStore();
  const weeks = own?.values["weeks"] ?? remedy.weeks;
  const [low, setLow] = useState(String(weeks.low));
  const [high, setHigh] = useState(String(weeks.high));
  const [wrong, setWrong] = useState<string | null>(null);
  const saved: CostSpan = own?.values["cost"] ?? remedy.cost;
  const id = own?.id ?? remedyCostId(remedy.id);
  const keep = (cost: CostSpan, span: { low: number; high: number }) => {
    put(store, "remedy_cost", id, { remedy: remedy.id, cost, weeks: span, deleted: false }, `Your figure for ${remedy.title} is kept`);
    onClose();
  };
  const typed = (cost: CostSpan) => {
    const span = { low: readWeeks(low), high: readWeeks(high) };
    if (!(span.low <= span.high)) setWrong("Type weeks as numbers, the fewest not above the most.");
    else keep(cost, span);
  };
  return (
    <Sheet title={remedy.title} onClose={onClose}>
      {remedy.note && <p class="soft">{remedy.note}</p>}
      {paid.map((one) => (
        <div class="stack tight" key={one.cost.currency}>
          <p class="figures">{one.n === 1 ? "Your one repair of this kind" : `Your ${one.n} repairs of this kind`} cost {spanOfCost(one.cost)}{one.n > 1 && ", the middle first"}.</p>
          {remedy.charged_per === "piece"
            ? <Button onClick={() => keep(one.cost, one.weeks ?? { low: readWeeks(low), high: readWeeks(high) })}>Take that as my figure</Button>
            : <p class="soft small">It is charged by the {remedy.charged_per}, so the sum is not taken over by itself.</p>}
        </div>
      ))}
      <SpanForm saved={saved.currency === currency ? saved : null} currency={currency} onSave={(span) => typed({ currency, ...span })}>
        <TextField label="Fewest weeks" keyboard="decimal" max={6} value={low} onInput={setLow} />
        <TextField label="Most weeks" keyboard="decimal" max={6} value={high} wrong={wrong} onInput={setHigh} />
      </SpanForm>
      {own?.values["cost"] && <Button kind="quiet" onClick={() => { put(store, "remedy_cost", id, { deleted: true }, "Back to the example figure"); onClose(); }}>Use the example figure again</Button>}
    </Sheet>
  );
}
