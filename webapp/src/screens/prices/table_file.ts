// Price notes as a file for spreadsheets and back; the library that parts cells is read only when it is needed.
import { tableRows } from "../../domain/price_table.ts";
import { shareFile, type Shared } from "../../device/share.ts";
import type { KeptNote } from "./notes.ts";

const MOST_BYTES = 2_000_000;
/** Tells spreadsheets that letters are in UTF-8. */
const MARK = "\ufeff";

const library = () => import("papaparse").then((module) => module.default);

export async function saveTable(notes: readonly KeptNote[], day: string): Promise<Shared> {
  const { unparse } = await library();
  return shareFile(`barnlight-prices-${day}.csv`, "text/csv", `${MARK}${unparse(tableRows(notes), { newline: "\r\n" })}\r\n`);
}

/** The cells of a table of text, parted by commas, semicolons or tabs. Rejects with RangeError and words for the person. */
export async function readTable(file: File): Promise<string[][]> {
  if (file.size > MOST_BYTES) throw new RangeError("That file is too large for a table of prices. Split it, then read the parts.");
  const text = decoded(await file.arrayBuffer());
  if (text.includes("\u0000")) throw new RangeError("That file is no table of text. In the spreadsheet save it as CSV, then read that.");
  const { parse } = await library();
  return parse<string[]>(text, { skipEmptyLines: false }).data;
}

/** UTF-8, or what older spreadsheets write in the West. */
function decoded(bytes: ArrayBuffer): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}
