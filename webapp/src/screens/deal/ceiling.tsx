// The ceiling with its span, an opening figure and the walk-away line, behind a button that is held.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { BuyOrNot } from "../../domain/buy_or_not.ts";
import type { DealSheet } from "../../domain/deal_sheet.ts";
import { Button } from "../../ui/button.tsx";
import { Held } from "./held.tsx";
import { about, BUY_WORDS } from "./words.ts";

/** `children`: what else only shows while the button is held. */
interface CeilingProps { figures: Pick<DealSheet, "ceiling" | "opening_minor">; buy: BuyOrNot | null; currency: string; children?: ComponentChildren }

export function Ceiling({ figures: { ceiling, opening_minor: opening }, buy, currency, children }: CeilingProps) {
  const [opens, setOpens] = useState(false);
  if (!ceiling) return <p>No ceiling yet: it needs what a working one is worth to you.</p>;
  const money = (minor: number) => about(minor, currency);
  const span = ceiling.low_minor === ceiling.high_minor ? "" : `, 19 times in 20 between ${money(ceiling.low_minor)} and ${money(ceiling.high_minor)}`;
  return (
    <>
      <Held words="Hold to see the ceiling">{() => (
        <>
          {buy && <p><strong>{BUY_WORDS[buy.word]}</strong></p>}
          <p class="figures"><span class="held-ceiling">{money(ceiling.middle_minor)}</span>{span}</p>
          {opens && opening !== null && opening > 0 && opening < ceiling.middle_minor && <p class="figures">You could open at {money(opening)}.</p>}
          <p class="figures">Walk away above {money(ceiling.middle_minor)}.</p>
          {children}
        </>
      )}</Held>
      <Button kind="quiet" pressed={opens} onClick={() => setOpens(!opens)}>Show an opening figure too</Button>
    </>
  );
}
