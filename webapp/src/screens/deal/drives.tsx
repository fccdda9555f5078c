// What takes most off the value, largest first, as a list of sums in words.
import { useState } from "preact/hooks";
import type { DealSheet } from "../../domain/deal_sheet.ts";
import { Button } from "../../ui/button.tsx";
import { about, driveWords } from "./words.ts";

const NAMED = 6;

export function Drives({ sheet }: { sheet: DealSheet }) {
  const [all, setAll] = useState(false);
  const rows = sheet.drives.filter((one) => one.minor > 0);
  return (
    <section class="stack tight" aria-labelledby="drives">
      <h2 id="drives">What drives it</h2>
      {rows.length === 0 && <p class="soft">Nothing is taken off: no fault seen, nothing left unseen, nothing on top.</p>}
      <ul class="sums">
        {rows.slice(0, all ? rows.length : NAMED).map((one) => (
          <li key={`${one.kind} ${one.id}`}>
            <span>{one.title}</span>
            <span class="amount">−{about(one.minor, sheet.currency)}</span>
            <span class="under">{driveWords(one)}</span>
          </li>
        ))}
      </ul>
      {rows.length > NAMED && !all && <Button kind="quiet" onClick={() => setAll(true)}>{rows.length - NAMED} smaller ones</Button>}
    </section>
  );
}
