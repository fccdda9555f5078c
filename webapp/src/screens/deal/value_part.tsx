// What a working one is worth: a group of the person's own price notes, or a figure of their own that goes before it.
import { useState } from "preact/hooks";
import { showMoney } from "../../domain/money.ts";
import { Button } from "../../ui/button.tsx";
import { PickField } from "../../ui/field.tsx";
import { address } from "../../ui/route.ts";
import { Sheet } from "../../ui/sheet.tsx";
import type { Keep } from "./save_terms.ts";
import { SpanForm } from "./span_form.tsx";
import type { ReadyDeal } from "./use_deal.ts";
import { about } from "./words.ts";

const FROM = { own: "your own figure", group: "your price notes" } as const;

export function ValuePart({ found, keep }: { found: ReadyDeal; keep: Keep }) {
  const [typing, setTyping] = useState(false);
  const { currency, known, ledger, terms: { deal, value_from: from } } = found;
  const saved = found.deal.terms;
  const groups = [...new Set([...ledger.notes.map((note) => note.group ?? ""), saved?.group ?? ""])].filter(Boolean).sort();
  const counted = (group: string) => ledger.notes.filter((note) => note.group === group && note.sold && note.state === "working").length;
  return (
    <details class="fold">
      <summary><span class="grow">Value of a working one</span><span class="soft small">{from ? FROM[from] : "not known"}</span></summary>
      <div class="inside stack">
        <PickField label="Group of your price notes" value={saved?.group ?? ""} hint={groups.length === 0 ? "None yet: prices you note get a group, and it can be picked here." : undefined}
          options={[{ value: "", label: "None" }, ...groups.map((group) => ({ value: group, label: `${group} (${counted(group)} sold, working)` }))]} onPick={(group) => keep({ group: group || null })} />
        <Button kind="quiet" href={saved?.group ? address("/prices/group", { name: saved.group }) : "#/prices"}>{saved?.group ? "Prices of this group" : "Price notes"}</Button>
        {known && known.count > 0 && (
          <p class="figures">{known.count === 1 ? "One working one" : `${known.count} working ones`} sold, the middle at {showMoney({ minor: known.median_minor!, currency })}, half of them between {showMoney({ minor: known.quarter_low_minor!, currency })} and {showMoney({ minor: known.quarter_high_minor!, currency })}.</p>
        )}
        {deal.value && <p class="figures">Reckoned with: {about(deal.value.likely_minor, currency)}, between {about(deal.value.low_minor, currency)} and {about(deal.value.high_minor, currency)} ({FROM[from!]}).</p>}
        <Button icon="pen" onClick={() => setTyping(true)}>{saved?.value ? "Change your own figure" : "Type your own figure"}</Button>
        {saved?.value && <Button kind="quiet" onClick={() => keep({ value: null }, "Your figure is taken out")}>Use the price notes instead</Button>}
      </div>
      {typing && (
        <Sheet title="What is a working one worth to you?" onClose={() => setTyping(false)}>
          <p class="soft">One figure is enough; low and high say how sure you are.</p>
          <SpanForm saved={deal.value} currency={currency} onSave={(value) => { keep({ value }, "Value kept"); setTyping(false); }} />
        </Sheet>
      )}
    </details>
  );
}
