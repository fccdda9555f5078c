// What the depths of a set hang on, where the piece does not say it yet: what the film lies on, outside and film size, format.
import type { Catalogue } from "../../domain/catalogue.ts";
import { PickField } from "../../ui/field.tsx";

export interface HolderKindProps { piece: Record<string, any>; catalogue: Catalogue; setPiece: Save; setHolders: Save }

type Save = (fields: Record<string, unknown>) => void;

const UNKNOWN = { value: "", label: "Not known" };

export function HolderKind({ piece, catalogue, setPiece, setHolders: set }: HolderKindProps) {
  const holders = (piece["holders"] ?? {}) as { registers_on?: string | null; family?: string | null; film_size?: string | null };
  const formats = catalogue.formats.map(({ id, title }) => ({ value: id, label: title }));
  const outsides = [...new Set(catalogue.formats.map(({ family }) => family))];
  const sharing = (family: string) => catalogue.formats.filter((one) => one.family === family).map(({ title }) => title).join(", ");
  return (
    <>
      <PickField label="The film lies on" value={holders.registers_on ?? ""} options={[{ value: "", label: "Not looked yet" }, ...catalogue.terms.registers_on.map(({ id, title, hint }) => ({ value: id, label: `${title}: ${hint}` }))]} onPick={(on) => set({ registers_on: on || null })} />
      <PickField label="Format" hint="Of the camera they are for: the published depth hangs on it" value={piece["format"] ?? ""} options={[UNKNOWN, ...formats]} onPick={(format) => setPiece({ format: format || null })} />
      <PickField label="Outside size (family)" hint="Several film sizes share one outside" value={holders.family ?? ""} options={[UNKNOWN, ...outsides.map((family) => ({ value: family, label: sharing(family) }))]} onPick={(family) => set({ family: family || null })} />
      <PickField label="Film size inside" value={holders.film_size ?? ""} options={[UNKNOWN, ...formats]} onPick={(size) => set({ film_size: size || null })} />
    </>
  );
}
