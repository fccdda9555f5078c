// Lines as they were understood: what would be saved, what stands there already, and what is wrong and how to put it right.
import { useState } from "preact/hooks";
import type { ReadLine } from "../../domain/price_text.ts";
import type { TableNote } from "../../domain/price_table.ts";
import { showMoney } from "../../domain/money.ts";
import { Button } from "../../ui/button.tsx";
import { Mark } from "../../ui/mark.tsx";
import { noteUnder } from "./words.ts";
import "./prices.css";

/** Lines drawn at once; those with problems stand first, so that none of them is among the undrawn. */
const PAGE = 60;

export interface ReadLinesProps {
  lines: readonly ReadLine<TableNote>[];
  notes: readonly ((TableNote & { sold: boolean }) | null)[];
  seen: readonly ("book" | "above" | null)[];
}

export function ReadLines({ lines, notes, seen }: ReadLinesProps) {
  const [pages, setPages] = useState(1);
  if (lines.length === 0) return null;
  const order = lines.map((_, at) => at).sort((a, b) => Number(notes[a] !== null) - Number(notes[b] !== null) || a - b);
  const shown = order.slice(0, PAGE * pages);
  return (
    <section class="stack tight" aria-labelledby="read">
      <h2 id="read">How they were understood</h2>
      <ul class="read-lines">
        {shown.map((at) => {
          const [{ line, text, problems }, note] = [lines[at]!, notes[at]];
          return (
            <li key={line} class="stack tight">
              {note ? (
                <>
                  <span><strong>{note.what}</strong>, <strong>{showMoney(note.price)}</strong></span>
                  <span class="small soft">{[noteUnder({ id: "", ...note }), note.group].filter(Boolean).join(", ")}</span>
                  {seen[at] && <Mark tone="worn" word={seen[at] === "book" ? "Stands in your book already" : "Stands above already"} />}
                </>
              ) : (
                <>
                  <span>Line {line}: {text}</span>
                  {problems.map((problem) => <Mark key={problem} tone="bad" word={problem} />)}
                </>
              )}
            </li>
          );
        })}
      </ul>
      {shown.length < order.length && <Button wide onClick={() => setPages(pages + 1)}>Show more: {order.length - shown.length}</Button>}
    </section>
  );
}
