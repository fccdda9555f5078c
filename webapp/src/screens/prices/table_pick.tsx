// Picking a table that a spreadsheet saved as text, read on the phone itself.
import { useRef, useState } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { ErrorNote } from "../../ui/notes.tsx";
import { readTable } from "./table_file.ts";

export interface Table { readonly name: string; readonly rows: readonly (readonly string[])[] }

export function TablePick({ onTable }: { onTable: (table: Table) => void }) {
  const chooser = useRef<HTMLInputElement>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const load = (file: File | undefined) => {
    if (!file) return;
    setWrong(null);
    readTable(file).then((rows) => onTable({ name: file.name, rows }), (error: unknown) => setWrong(error instanceof RangeError ? error.message : "The file could not be opened. Try again, or save it anew in the spreadsheet."));
  };
  return (
    <>
      <Button icon="page" onClick={() => chooser.current?.click()}>Read a table (CSV)</Button>
      <input ref={chooser} type="file" accept=".csv,.tsv,.txt,text/csv,text/plain" class="only-read" tabIndex={-1} aria-label="Table to read" onChange={(event) => { load(event.currentTarget.files?.[0]); event.currentTarget.value = ""; }} />
      {wrong && <ErrorNote what="This file was not read." todo={wrong} />}
    </>
  );
}
