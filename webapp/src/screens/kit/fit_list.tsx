// What a thing fits and what it does not: a line each, with the reason, the figure and what is missing to know.
import type { Catalogue } from "../../domain/catalogue.ts";
import { type Fitted, fitWithKit } from "../../domain/kit_fit.ts";
import type { LengthUnit } from "../../domain/lengths.ts";
import { Mark } from "../../ui/mark.tsx";
import "./kit.css";
import { ABOUT, FITS } from "./kit_words.ts";
import type { NamedThing } from "./things.ts";

export function FitList({ thing, others, catalogue, unit }: { thing: NamedThing; others: readonly NamedThing[]; catalogue: Catalogue; unit: LengthUnit }) {
  const found = fitWithKit(thing, others, catalogue, unit);
  if (found.length === 0) return <p class="soft">Nothing here that this could go with.</p>;
  return <ul class="stack">{found.map((one) => <FitFold key={one.with} title={others.find(({ id }) => id === one.with)!.title} found={one} />)}</ul>;
}

/** Two things: the verdict, and unfolded each question with its answer. */
export function FitFold({ title, found: { verdict, answers } }: { title: string; found: Fitted }) {
  return (
    <li>
      <details class="fold">
        <summary><Mark {...FITS[verdict]} /><span class="goes">{title}</span></summary>
        <dl class="inside stack tight">
          {answers.map((one) => (
            <div key={one.about}>
              <dt><strong>{ABOUT[one.about]}: {FITS[one.verdict].word.toLowerCase()}</strong></dt>
              <dd>{one.reason}{one.figure && <span class="soft"> {one.figure}.</span>}</dd>
            </div>
          ))}
        </dl>
      </details>
    </li>
  );
}
