// Many prices at once, from pasted lines or a table: each line is shown as it was understood before anything is saved.
import { useMemo, useState } from "preact/hooks";
import { parseLines, type ReadLine, seenBefore } from "../../domain/price_text.ts";
import { columnNames, COLUMNS, type TableNote, tableNotes } from "../../domain/price_table.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { PickField, TextField } from "../../ui/field.tsx";
import { ErrorNote, Note, Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { useHabits } from "../ledger/habits.ts";
import { VENUES } from "../sellers/words.ts";
import { today } from "../visit/today.ts";
import { SOLD_OPTIONS } from "./note_fields.tsx";
import { type KeptNote, useGroups, useNotes } from "./notes.ts";
import { ReadLines } from "./read_lines.tsx";
import { completed, type ForAll, saveNotes } from "./save_notes.ts";
import { TablePick, type Table } from "./table_pick.tsx";
import { priceCount } from "./words.ts";

const EXAMPLE = "2026-05-03 210 mm lens 180 EUR sold working";

export default function Paste() {
  const [habits, groups, known] = [useHabits(), useGroups(), useNotes()];
  if (!habits || !groups || !known) return <Screen title="Many prices at once" back="#/prices"><Waiting /></Screen>;
  return <Pasted usual={habits.currency} groups={groups} known={known} />;
}

/** What was read, or why the whole table cannot be. */
type Read = { lines: readonly ReadLine<TableNote>[]; other: readonly string[] } | { wrong: string };

function read(text: string, table: Table | null, usual: string): Read {
  if (!table) return { lines: parseLines(text, today(), usual), other: [] };
  try {
    return { lines: tableNotes(table.rows, today(), VENUES.map(({ id }) => id)), other: columnNames(table.rows).filter((name) => name && !(COLUMNS as readonly string[]).includes(name)) };
  } catch (error) {
    return { wrong: (error as Error).message };
  }
}

function Pasted({ usual, groups, known }: { usual: string; groups: readonly string[]; known: readonly KeptNote[] }) {
  const store = useStore();
  const [text, setText] = useState("");
  const [table, setTable] = useState<Table | null>(null);
  const [all, setAll] = useState<ForAll>({ group: "", sold: true, venue_kind: null });
  const [twice, setTwice] = useState(false);
  const [saving, setSaving] = useState<number | null>(null);
  const found = useMemo(() => read(text, table, usual), [text, table, usual]);
  const lines = "lines" in found ? found.lines : [];
  const notes = lines.map(({ note }) => note && completed(note, all));
  const seen = seenBefore(notes, known);
  const wanted = lines.flatMap((_, at) => (notes[at] && (twice || !seen[at]) ? [at] : []));

  const save = () => {
    const before = { text, table };
    const taken = new Set(wanted);
    // What was not saved stays to be put right.
    const left = new Set(lines.filter((_, at) => !taken.has(at)).map(({ line }) => line));
    setSaving(0);
    saveNotes(store, wanted.map((at) => notes[at]!), setSaving).then((back) => {
      if (table) setTable(left.size > 0 ? { ...table, rows: table.rows.filter((_, at) => at === 0 || left.has(at + 1)) } : null);
      else setText(text.split(/\r\n|\r|\n/).filter((_, at) => left.has(at + 1)).join("\n"));
      const undo = () => { back().then(() => { setText(before.text); setTable(before.table); }, (error: unknown) => tellFailure(error, undo)); };
      showToast({ words: left.size > 0 ? `${priceCount(wanted.length)} saved; ${left.size} left here` : `${priceCount(wanted.length)} saved`, undo });
    }, (error: unknown) => tellFailure(error, save)).finally(() => setSaving(null));
  };

  return (
    <Screen title="Many prices at once" back="#/prices" backWord="Back to the prices"
      foot={<Button wide kind="strong" icon="tick" disabled={wanted.length === 0 || saving !== null} onClick={save}>{saving === null ? `Save ${priceCount(wanted.length)}` : `Saved ${saving}…`}</Button>}>
      {table ? (
        <div class="row"><p class="grow">Table “{table.name}”, {table.rows.length - 1} rows</p><Button icon="cross" onClick={() => setTable(null)}>Put it away</Button></div>
      ) : (
        <>
          <TextField label="One price a line" lines hint={`As in: ${EXAMPLE}. Without a day it is today's; without a currency it is in ${usual}.`} value={text} onInput={setText} />
          <TablePick onTable={setTable} />
        </>
      )}
      {"wrong" in found && <ErrorNote what="This table cannot be read." todo={found.wrong} />}
      {lines.length > 0 && (
        <>
          <TextField label="Group for all of them" hint="Where a line does not say" max={80} suggestions={groups} value={all.group} onInput={(group) => setAll({ ...all, group })} onDone={(group) => setAll({ ...all, group: group.trim() })} />
          <BigChoice legend="Where a line does not say" options={SOLD_OPTIONS} value={all.sold ? "sold" : "asked"} onChoose={(said) => setAll({ ...all, sold: said === "sold" })} />
          <PickField label="Kind of venue, where a line does not say" value={all.venue_kind ?? ""} options={[{ value: "", label: "Not said" }, ...VENUES.map(({ id, title }) => ({ value: id, label: title }))]} onPick={(kind) => setAll({ ...all, venue_kind: kind || null })} />
        </>
      )}
      {"other" in found && found.other.length > 0 && <Note tone="care"><p>Not taken over, as there is no place for them: {found.other.join(", ")}.</p></Note>}
      {seen.some(Boolean) && (
        <BigChoice legend="Some stand there already" options={[{ value: "once", label: "Leave out what is there twice" }, { value: "twice", label: "Save them again", hint: "Two sales that were alike" }]} value={twice ? "twice" : "once"} onChoose={(said) => setTwice(said === "twice")} />
      )}
      <ReadLines lines={lines} notes={notes} seen={seen} />
    </Screen>
  );
}
