// A field said differently by people who did not know of each other: every version with who and when, and a person picks.
import { apartFields, type ApartField, type Version } from "../../store/apart.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Note } from "../../ui/notes.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { msOf } from "./entries.ts";
import { fieldTitle } from "./field_words.ts";
import { nameOf } from "./record_words.ts";
import { isId, momentWords, valueWords } from "./value_words.ts";
import "./history.css";

export interface VersionsProps {
  record: string;
  /** Only these fields; without it, all of the record. */
  fields?: readonly string[];
  /** The check that the record is about. */
  check?: string;
}

export function Versions({ record, fields, check }: VersionsProps) {
  const apart = useLive(async (from) => apartFields(fields
    ? (await Promise.all(fields.map((field) => from.fieldHistory(record, field)))).flat()
    : await from.history(record)), [record, fields?.join(" ")]);
  return <>{apart?.map((one) => <Choice key={one.field} apart={one} check={check} />)}</>;
}

/** The versions of one field, to pick from; `of` says of what, where the field alone does not. */
export function Choice({ apart, check, of }: { apart: ApartField; check?: string; of?: string }) {
  const store = useStore();
  const catalogue = useCatalogue();
  const device = useLive((from) => from.meta.get("device"), []);
  const { record, kind, field, versions } = apart;
  // Where a version is another record, as a seller or a sale, it is told by that one's name.
  const ids = versions.map(({ change }) => change.value).filter(isId);
  const named = useLive((from) => Promise.all(ids.map((id) => from.get(id))), [ids.join(" ")]);
  if (!catalogue || !named) return null;
  const names = new Map(named.flatMap((one) => (one ? [[one.id, nameOf(one, catalogue)] as const] : [])));
  const words = (value: unknown) => (field === "deleted" ? (value ? "Taken off" : "Kept") : valueWords(kind, field, value, { catalogue, names, check }));
  const pick = ({ change }: Version) => {
    store.pick(record, field, change).then(
      (back) => showToast({ words: `Kept: ${words(change.value)}`, undo: () => { back().catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error, () => pick({ change, said: change })),
    );
  };
  return (
    <Note tone="care" title={`${versions.length} versions of “${[of, field === "deleted" ? "Taken off" : fieldTitle(kind, field)].filter(Boolean).join(": ")}”: which holds?`}>
      <ul class="stack tight">
        {versions.map((version) => (
          <li key={version.change.id} class="version">
            <span><strong>{words(version.change.value)}</strong><br /><span class="small">{whoWords(version.said, device)}, {momentWords(msOf(version.said.stamp))}</span></span>
            <Button label={`This one: ${words(version.change.value)}`} onClick={() => pick(version)}>This one</Button>
          </li>
        ))}
      </ul>
    </Note>
  );
}

/** The name beside an edit; this phone's own are said to be so, as two phones may bear one name. */
export function whoWords({ author, device }: { author: string; device: string }, mine: string | undefined): string {
  const name = author || "somebody";
  return device === mine ? `${name}, on this phone` : name;
}
