// Price notes as rows of a table and back, for spreadsheets; how cells are parted is the library's part (RFC 4180).

import { decimals, type Money, parseMoney } from "./money.ts";
import type { PriceNote } from "./price_baseline.ts";
import { MOST_LINES, noteProblems, readDay, type ReadLine, type ReadNote } from "./price_text.ts";

const NEEDED = ["day", "what", "amount", "currency"] as const;
const INCLUDED = ["premium", "tax", "freight"] as const;
export const COLUMNS = ["day", "what", "group", "amount", "currency", "sold", "state", "venue_kind", ...INCLUDED, "note"] as const;
const STATES = ["working", "faulty", "unknown"];
const YES_NO = new Map<string, boolean | null>([["yes", true], ["true", true], ["1", true], ["no", false], ["false", false], ["0", false], ["", null]]);
const SOLD = new Map([...YES_NO, ["sold", true], ["asked", false]] as const);
// What a spreadsheet takes for a formula when a cell begins with it. Source: OWASP, CSV injection (from memory).
const FORMULA = /^[=+\-@\t\r]/;

type Included = Readonly<Partial<Record<(typeof INCLUDED)[number], boolean | null>>>;
type Cells = Readonly<Record<(typeof COLUMNS)[number], string>>;

/** A price note with all that a table holds of it. */
export interface FullNote extends PriceNote {
  readonly included?: Included;
  readonly note?: string;
}

export type TableNote = ReadNote & Pick<FullNote, "included" | "note">;

/** The names of the columns and a row a note, as text; no cell begins a formula. */
export function tableRows(notes: readonly FullNote[]): string[][] {
  return [[...COLUMNS], ...notes.map((note) => COLUMNS.map((name) => harmless(cellOf(note, name))))];
}

/**
 * Rows whose first names the columns, in any order; `line` counts rows from 1. A note has group, venue_kind, included and note
 * where the row has them. Throws RangeError with a message for the person where a needed column is missing.
 */
export function tableNotes(rows: readonly (readonly string[])[], today: string, venueKinds: readonly string[]): ReadLine<TableNote>[] {
  const names = columnNames(rows);
  const missing = NEEDED.filter((name) => !names.includes(name));
  if (missing.length > 0) throw new RangeError(`The first line must name the columns ${NEEDED.join(", ")}. Missing: ${missing.join(", ")}.`);
  const found: ReadLine<TableNote>[] = [];
  for (const [at, row] of rows.slice(1).entries()) {
    const cells = row.map(plain);
    if (!cells.some(Boolean)) continue;
    if (found.length === MOST_LINES) {
      found.push({ line: at + 2, text: "", note: null, problems: [`Only ${MOST_LINES} lines are read at a time. Save these, then take the rest.`] });
      break;
    }
    const byName = Object.fromEntries(COLUMNS.map((name) => [name, cells[names.lastIndexOf(name)] ?? ""])) as Cells;
    found.push(fromCells(at + 2, cells.filter(Boolean).join(", "), byName, today, venueKinds));
  }
  return found;
}

/** The names in the first row as `tableNotes` looks for them; others than COLUMNS are not taken over. */
export function columnNames(rows: readonly (readonly string[])[]): string[] {
  return (rows[0] ?? []).map((cell) => plain(cell).toLowerCase().replaceAll(" ", "_"));
}

function fromCells(line: number, text: string, cells: Cells, today: string, venueKinds: readonly string[]): ReadLine<TableNote> {
  const problems: string[] = [];
  const day = readDay(cells.day);
  if (day === null && cells.day) problems.push(`“${cells.day}” is not clear as a day. Write it as 2026-05-03 or 3.5.2026.`);
  let price: Money | null = null;
  try {
    price = parseMoney(cells.amount, cells.currency.toUpperCase());
  } catch (error) {
    problems.push((error as Error).message);
  }
  const [sold, state, venue] = [cells.sold.toLowerCase(), cells.state.toLowerCase() || "unknown", cells.venue_kind.toLowerCase().replaceAll(" ", "_")];
  if (!SOLD.has(sold)) problems.push("Under “sold” write sold or asked.");
  if (!STATES.includes(state)) problems.push("Under “state” write working, faulty or unknown.");
  if (venue && !venueKinds.includes(venue)) problems.push(`Under “venue_kind” write one of ${venueKinds.join(", ")}.`);
  if (INCLUDED.some((name) => !YES_NO.has(cells[name].toLowerCase()))) problems.push(`Under ${INCLUDED.join(", ")} write yes or no.`);
  const included = Object.fromEntries(INCLUDED.map((name) => [name, YES_NO.get(cells[name].toLowerCase()) ?? null])) as Included;
  const note = {
    day, what: cells.what, price, sold: SOLD.get(sold) ?? null, state: state as ReadNote["state"],
    ...(cells.group && { group: cells.group }),
    ...(venue && { venue_kind: venue }),
    ...(cells.note && { note: cells.note }),
    ...(Object.values(included).some((said) => said !== null) && { included }),
  };
  const said = [price === null && "Type the price", cells.day && day === null && "Set the day"].filter((one) => typeof one === "string" && one !== "") as string[];
  problems.push(...noteProblems(note, today).filter((one) => !said.some((begin) => one.startsWith(begin))));
  return { line, text, note: problems.length > 0 ? null : note as TableNote, problems };
}

function cellOf(note: FullNote, name: (typeof COLUMNS)[number]): string {
  switch (name) {
    case "amount": return note.price ? major(note.price) : "";
    case "currency": return note.price?.currency ?? "";
    case "sold": return note.sold ? "sold" : "asked";
    case "premium": case "tax": case "freight": {
      const said = note.included?.[name] ?? null;
      return said === null ? "" : said ? "yes" : "no";
    }
    default: return note[name] ?? "";
  }
}

/** An amount in figures and a point, as `parseMoney` reads it. */
function major({ minor, currency }: Money): string {
  const digits = decimals(currency);
  const text = String(minor).padStart(digits + 1, "0");
  return digits > 0 ? `${text.slice(0, -digits)}.${text.slice(-digits)}` : text;
}

function harmless(cell: string): string {
  return FORMULA.test(cell) ? `'${cell}` : cell;
}

function plain(cell: string): string {
  return (cell.startsWith("'") && FORMULA.test(cell.slice(1)) ? cell.slice(1) : cell).trim();
}
