// A set of holders: how many, what the film registers on, outside family and film size as two facts, build.
import type { Catalogue } from "../../domain/catalogue.ts";
import { PickField } from "../../ui/field.tsx";
import { SavedField } from "../../ui/saved_field.tsx";
import { Counter } from "../../ui/counter.tsx";
import type { ChangePiece } from "./facts.tsx";

export interface HolderFactsProps { piece: Record<string, any>; catalogue: Catalogue; changePiece: ChangePiece }

type Holders = Record<string, any> & { count: number };

const NONE_KNOWN: Holders = { count: 1 };

const BUILDS = [{ value: "", label: "Not known yet" }, { value: "wood", label: "Wood" }, { value: "plastic", label: "Plastic" }, { value: "metal", label: "Metal" }, { value: "mixed", label: "Mixed" }];
const MOST = 200;

/** Numbers run from 1; those written on the holders already are kept when the count changes. */
function numbered(count: number, numbers: readonly string[] = []): string[] {
  return Array.from({ length: count }, (_, index) => numbers[index] ?? String(index + 1));
}

/** Of records.json. */
const LONGEST_NUMBER = 12;

/** What is written on the holders, as typed with spaces or commas; those left without one keep their place in the row. */
function asTyped(typed: string, count: number): string[] {
  const words = typed.split(/[\s,;]+/).filter(Boolean).map((word) => word.slice(0, LONGEST_NUMBER));
  return numbered(count, words.slice(0, count));
}

export function HolderFacts({ piece, catalogue, changePiece }: HolderFactsProps) {
  const holders: Holders = { ...NONE_KNOWN, ...piece["holders"] };
  const change = (make: (held: Holders) => Partial<Holders>) => changePiece<Holders>("holders", (held) => ({ ...NONE_KNOWN, ...held, ...make({ ...NONE_KNOWN, ...held }) }));
  const set = (fields: Partial<Holders>) => change(() => fields);
  const step = (by: 1 | -1) => change((held) => {
    const count = Math.min(MOST, Math.max(1, held.count + by));
    return { count, numbers: numbered(count, held["numbers"]) };
  });
  const formats = catalogue.formats;
  const families = [...new Map(formats.map((one) => [one.family , formats.filter((other) => other.family === one.family)])).entries()];
  return (
    <details class="fold">
      <summary><span class="grow">The set</span><span class="soft small figures">{holders.count}</span></summary>
      <div class="inside stack">
        <Counter label="How many holders" value={holders.count} least={1} most={MOST} onStep={step} />
        <SavedField label="Numbers on the holders" hint="In a row, with spaces: 1 2 3, or as somebody wrote them. Places are still counted from 1." lines max={MOST * (LONGEST_NUMBER + 1)}
          saved={numbered(holders.count, holders["numbers"]).join(" ")} onSave={(typed) => set({ numbers: asTyped(typed, holders.count) })} />
        <PickField label="The film registers on" value={holders["registers_on"] ?? ""} hint="Depth means something only where film lies on the divider."
          options={[{ value: "", label: "Not known yet" }, ...catalogue.terms.registers_on.map((one) => ({ value: one.id, label: `${one.title}: ${one.hint.toLowerCase()}` }))]} onPick={(value) => set({ registers_on: value || null })} />
        <PickField label="Outside size (family)" value={holders["family"] ?? ""} hint="Several film sizes share one outside."
          options={[{ value: "", label: "Not known yet" }, ...families.map(([id, members]) => ({ value: id, label: members.map((one) => one.title).join(", ") }))]} onPick={(value) => set({ family: value || null })} />
        <PickField label="Film size inside" value={holders["film_size"] ?? ""}
          options={[{ value: "", label: "Not known yet" }, ...formats.map((one) => ({ value: one.id, label: one.title }))]} onPick={(value) => set({ film_size: value || null })} />
        <PickField label="Made of" value={holders["build"] ?? ""} options={BUILDS} onPick={(value) => set({ build: value || null })} />
      </div>
    </details>
  );
}
