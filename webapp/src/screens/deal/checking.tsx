// What one more look would be worth: how far it moves the ceiling and what knowing may save, each leading to the check.
import { useState } from "preact/hooks";
import type { DealSheet } from "../../domain/deal_sheet.ts";
import { Button } from "../../ui/button.tsx";
import { Icon } from "../../ui/icon.tsx";
import { address } from "../../ui/route.ts";
import { spanWords, within } from "../visit/words.ts";
import { about, chanceWords } from "./words.ts";

const NAMED = 4;

export function Checking({ visit, sheet }: { visit: string; sheet: DealSheet }) {
  const [all, setAll] = useState(false);
  const rows = sheet.checking.filter((one) => one.moves_minor > 0);
  if (rows.length === 0) return null;
  return (
    <section class="stack tight" aria-labelledby="checking">
      <h2 id="checking">What one more look is worth</h2>
      <ul class="lines">
        {rows.slice(0, all ? rows.length : NAMED).map((one) => (
          <li key={one.check}>
            <a class="line" href={address("/visit", visit, "/check", one.check)}>
              <Icon name="eye" />
              <span>
                <span class="name">{one.title}, {spanWords(one.seconds)}</span>
                <span class="under figures">Looking at {within(one.title)} for {spanWords(one.seconds)} moves the ceiling by {about(one.moves_minor, sheet.currency)}; it is faulty {chanceWords(one.chance)}.</span>
                {one.worth_minor > 0 && <span class="under figures">Knowing first is worth about {about(one.worth_minor, sheet.currency)} at this price.</span>}
              </span>
              <Icon name="onward" size="little" />
            </a>
          </li>
        ))}
      </ul>
      {rows.length > NAMED && !all && <Button kind="quiet" onClick={() => setAll(true)}>{rows.length - NAMED} more looks</Button>}
    </section>
  );
}
