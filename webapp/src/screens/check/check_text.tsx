// What to do at a check and what good and bad look like, with the caution before the hand is there.
import type { Catalogue, Check } from "../../domain/catalogue.ts";
import { Icon } from "../../ui/icon.tsx";
import { MarkShape } from "../../ui/mark.tsx";
import { allCautions } from "../visit/cautions.ts";

/** Cautions folded up by the person stay so for this sitting. */
const read = new Set<string>();
/** Good manners are told by their title, and so are many cautions at once; a single danger stands open until it has been read. */
const MANNERS = "manners";

function Cautions({ ids, catalogue }: { ids: readonly string[]; catalogue: Catalogue }) {
  const cautions = ids.map((id) => allCautions(catalogue).find((one) => one.id === id)).filter((one) => one !== undefined);
  if (cautions.length === 0) return null;
  const fresh = cautions.length === 1 && cautions[0]!["topic"] !== MANNERS && !read.has(cautions[0]!.id);
  return (
    <details class="fold care" open={fresh} onToggle={(event) => { if (!event.currentTarget.open) for (const { id } of cautions) read.add(id); }}>
      <summary><Icon name="warn" /><span class="grow">{cautions.map((caution) => <span class="title" key={caution.id}>{caution.title}<span class="only-read">. </span></span>)}</span></summary>
      <ul class="inside stack tight">{cautions.map((caution) => <li key={caution.id}>{cautions.length > 1 && <strong>{caution.title}. </strong>}{caution.say}</li>)}</ul>
    </details>
  );
}

export function CheckText({ check, catalogue }: { check: Check; catalogue: Catalogue }) {
  return (
    <>
      <Cautions ids={check.cautions} catalogue={catalogue} />
      <p class="todo">{check.do}</p>
      <dl class="looks">
        <dt class="good"><MarkShape tone="good" /><span class="only-read">Good</span></dt>
        <dd>{check.good}</dd>
        <dt class="bad"><MarkShape tone="bad" /><span class="only-read">Bad</span></dt>
        <dd>{check.bad}</dd>
        <dt class="soft"><Icon name="info" /><span class="only-read">What it means</span></dt>
        <dd class="soft">{check.means}</dd>
      </dl>
    </>
  );
}
