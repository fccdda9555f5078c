// What comes on top of the price or off the value: premium, tax, freight, travel, weeks without it, and what selling it on takes.
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Chips } from "../../ui/choices.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { type Habits, saveHabits } from "../ledger/habits.ts";
import { AmountField, PercentField } from "./amount_field.tsx";
import type { Keep } from "./save_terms.ts";
import type { DealRecord } from "./use_deal.ts";

/** The figures that may count for every deal. */
const USUAL = ["premium", "tax", "fees", "margin_minor"] as const;

interface OnTopProps { deal: DealRecord; habits: Habits; currency: string; keep: Keep }

const usually = (value: number | undefined) => (value ? `Left empty, your usual ${Math.round(value * 1e5) / 1e3} % counts.` : undefined);

export function OnTop({ deal: { terms }, habits, currency, keep }: OnTopProps) {
  const store = useStore();
  const keepHabit = (changed: Partial<Habits>) => { saveHabits(store, changed).catch((error: unknown) => tellFailure(error, () => keepHabit(changed))); };
  const resale = terms?.resale ?? false;
  const typed = USUAL.filter((name) => terms?.[name] !== undefined && terms[name] !== habits[name]);
  return (
    <details class="fold">
      <summary><span class="grow">What comes on top</span></summary>
      <div class="inside stack">
        <PercentField label="Buyer's premium" hint={usually(habits.premium)} most={200} saved={terms?.premium} onSave={(premium) => keep({ premium })} />
        <PercentField label="Tax on price and premium" hint={usually(habits.tax)} most={200} saved={terms?.tax} onSave={(tax) => keep({ tax })} />
        <AmountField label="Freight" currency={currency} saved={terms?.freight_minor} onSave={(minor) => keep({ freight_minor: minor })} />
        <AmountField label="Travel" currency={currency} saved={terms?.travel_minor} onSave={(minor) => keep({ travel_minor: minor })} />
        <AmountField label="A week without it is worth" hint="Yours for every deal: what each week at the repairer takes off." currency={habits.currency} saved={habits.week_minor} onSave={(minor) => keepHabit({ week_minor: minor ?? 0 })} />
        <Chips legend="What is it for?" options={[{ value: "keep", label: "To keep" }, { value: "resale", label: "To sell on" }]} chosen={[resale ? "resale" : "keep"]} onToggle={(what) => keep({ resale: what === "resale" })} />
        {resale && <PercentField label="Fees when it is sold" hint={usually(habits.fees)} most={100} saved={terms?.fees} onSave={(fees) => keep({ fees })} />}
        {resale && <AmountField label="Margin" hint={habits.margin_minor ? "Left empty, your usual margin counts." : undefined} currency={currency} saved={terms?.margin_minor} onSave={(minor) => keep({ margin_minor: minor })} />}
        {typed.length > 0 && terms?.currency === habits.currency && <Button kind="quiet" onClick={() => keepHabit(Object.fromEntries(typed.map((name) => [name, terms[name]])))}>Use these for every deal</Button>}
      </div>
    </details>
  );
}
