// The fields of a price that are picked and not typed: sold or asked, state, kind of venue, what was in the price.
import type { FullNote } from "../../domain/price_table.ts";
import { BigChoice } from "../../ui/choices.tsx";
import { PickField } from "../../ui/field.tsx";
import { VENUES } from "../sellers/words.ts";
import { STATES } from "./words.ts";

type Picked = Pick<FullNote, "sold" | "state" | "venue_kind" | "included">;

const INCLUDED = [["premium", "Buyer's premium"], ["tax", "Tax"], ["freight", "Freight"]] as const;
const SAID = [{ value: "", label: "Not known" }, { value: "yes", label: "In the price" }, { value: "no", label: "Not in the price" }];

export const SOLD_OPTIONS = [{ value: "sold", label: "It sold for this" }, { value: "asked", label: "Only asked", hint: "Kept, but counts for nothing" }] as const;

export function NoteFields({ note, onPick }: { note: Picked; onPick: (picked: Partial<Picked>) => void }) {
  return (
    <>
      <BigChoice legend="Sold or asked?" options={SOLD_OPTIONS} value={note.sold === undefined ? null : note.sold ? "sold" : "asked"} onChoose={(said) => onPick({ sold: said === "sold" })} />
      <PickField label="State" value={note.state ?? "unknown"} options={STATES} onPick={(state) => onPick({ state: state as FullNote["state"] })} />
      <PickField label="Kind of venue" value={note.venue_kind ?? ""} options={[...(note.venue_kind ? [] : [{ value: "", label: "Not said" }]), ...VENUES.map(({ id, title }) => ({ value: id, label: title }))]}
        onPick={(kind) => { if (kind) onPick({ venue_kind: kind }); }} />
      <details class="fold">
        <summary>What was in the price</summary>
        <div class="inside stack">
          {INCLUDED.map(([name, label]) => {
            const said = note.included?.[name] ?? null;
            return <PickField key={name} label={label} value={said === null ? "" : said ? "yes" : "no"} options={SAID} onPick={(word) => onPick({ included: { premium: null, tax: null, freight: null, ...note.included, [name]: word === "" ? null : word === "yes" } })} />;
          })}
        </div>
      </details>
    </>
  );
}
