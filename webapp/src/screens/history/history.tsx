// The history of a piece: what changed, from what to what, who did it and when, with its looks, answers and photos.
import { useMemo, useState } from "preact/hooks";
import type { Catalogue } from "../../domain/catalogue.ts";
import type { Family } from "../../store/family.ts";
import { useLive } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { StoredImage } from "../visit/stored_image.tsx";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { entriesOf, type Entry, type Line } from "./entries.ts";
import { fieldTitle } from "./field_words.ts";
import { nameOf, recordAddress, recordTitle } from "./record_words.ts";
import { valueWords, type WordsFrom } from "./value_words.ts";
import { whoWords } from "./versions.tsx";
import "./history.css";

/** What a first entry is called, where its lines do not say enough. */
const BEGAN: Record<string, string> = { piece: "put into the book", visit: "begun" };

/** Entries shown at a time: a long history must not hold the phone up. */
const PAGE = 40;

export default function History({ params }: ScreenInput) {
  const visit = params["visit"]!;
  const catalogue = useCatalogue();
  const [pages, setPages] = useState(1);
  const read = useLive(async (from) => {
    const piece = await from.get((await from.get(visit))?.values["piece"] ?? "");
    if (!piece) return null;
    const [family, device, sessions, sellers] = await Promise.all([from.family(piece.id), from.meta.get("device"), from.byKind("session"), from.byKind("seller")]);
    return { piece, family, device, named: [...sessions, ...sellers] };
  }, [visit]);
  const entries = useMemo(() => read && entriesOf(read.family), [read]);
  if (read === null) return <Missing />;
  if (!read || !entries || !catalogue) return <Waiting />;

  const { piece, family, device, named } = read;
  const records = new Map(family.records.map((record) => [record.id, record]));
  const names = new Map([
    ...named.map((one) => [one.id, nameOf(one, catalogue)] as const),
    ...family.records.map((record) => [record.id, recordTitle(record, catalogue)] as const),
  ]);
  const shown = entries.slice(0, PAGE * pages);
  return (
    <Screen title="History" over={pieceTitle(piece)} back={address("/visit", visit)} backWord="Back to the piece" keepPlace={`history ${visit}`}>
      <p class="soft">{entries.length === 1 ? "1 entry" : `${entries.length} entries`}, newest first. What was overwritten stays here; nothing is ever lost.</p>
      {byDay(shown).map(([day, some]) => (
        <section key={day} class="stack tight" aria-label={day}>
          <h2>{day}</h2>
          <ol class="history">
            {some.map((entry) => <EntryLine key={entry.id} entry={entry} record={records.get(entry.record)!} catalogue={catalogue} names={names} device={device} />)}
          </ol>
        </section>
      ))}
      {shown.length < entries.length && <Button wide onClick={() => setPages(pages + 1)}>Show older: {entries.length - shown.length} more</Button>}
      {piece.fields["kind"] === undefined && <Note tone="tell"><p>The beginning of this piece has not reached this phone yet.</p></Note>}
    </Screen>
  );
}

function byDay(entries: readonly Entry[]): [string, Entry[]][] {
  const days = new Map<string, Entry[]>();
  for (const entry of entries) {
    const day = new Date(entry.ms).toLocaleDateString(undefined, { weekday: "long", day: "numeric", month: "long", year: "numeric" });
    days.set(day, [...(days.get(day) ?? []), entry]);
  }
  return [...days];
}

interface EntryLineProps { entry: Entry; record: Family["records"][number]; catalogue: Catalogue; names: ReadonlyMap<string, string>; device: string | undefined }

function EntryLine({ entry, record, catalogue, names, device }: EntryLineProps) {
  const check = record.fields["check"]?.value as string | undefined;
  const from: WordsFrom = { catalogue, names, check };
  const to = recordAddress(record);
  const title = recordTitle(record, catalogue);
  const picture = entry.kind === "photo" && entry.began ? (record.fields["file"]?.value as { hash?: string } | undefined)?.hash : undefined;
  const gone = entry.lines.find((line) => line.field === "deleted");
  return (
    <li>
      <p class="name">{to ? <a href={to}>{title}</a> : title}{entry.began && BEGAN[entry.kind] && <span class="soft small"> {BEGAN[entry.kind]}</span>}</p>
      {gone && <p>{gone.value ? "Taken off" : "Brought back"}</p>}
      {entry.lines.filter((line) => line !== gone).map((line) => <ChangeLine key={line.field} line={line} kind={entry.kind} from={from} />)}
      {picture && <div class="picture"><StoredImage hash={picture} alt={title} by={entry.author} /></div>}
      <p class="soft small">{whoWords(entry, device)}, {new Date(entry.ms).toLocaleTimeString(undefined, { hour: "2-digit", minute: "2-digit" })}</p>
    </li>
  );
}

function ChangeLine({ line, kind, from }: { line: Line; kind: string; from: WordsFrom }) {
  const words = (value: unknown) => valueWords(kind, line.field, value, from);
  const { base, apart, picked } = line;
  return (
    <p class="wrap-anywhere">
      <span class="soft">{fieldTitle(kind, line.field)}: </span>
      {base && <><span class="only-read">from </span><s>{words(base.value)}</s><span aria-hidden="true"> → </span><span class="only-read"> to </span></>}
      <strong>{words(line.value)}</strong>
      {picked > 0 && <span class="small"> (picked from {picked} versions)</span>}
      {apart && <span class="small"> (said without knowing of {words(apart.value)} by {apart.author || "somebody"})</span>}
    </p>
  );
}
