// The verdict with its range, what drove it, and what was not looked at: as large as the rest, because it counts as much.
import type { Catalogue, Check } from "../../domain/catalogue.ts";
import type { Verdict } from "../../domain/verdict.ts";
import { Mark } from "../../ui/mark.tsx";
import { address } from "../../ui/route.ts";
import type { Judged } from "./judge.ts";
import { placeWords, speedWords, verdictSign, within } from "./words.ts";

/** How many open checks are listed before the rest are counted. */
const LISTED = 5;

function rangeWords(upTo: { text: string } | null | undefined): string | null {
  return upTo ? `up to ${speedWords(upTo.text)}; faster not judged` : null;
}

function HoldersLine({ holders }: { holders: Verdict["holders"] }) {
  if (!holders) return null;
  const { of, looked, ready, with_faults, needs_work } = holders;
  const parts = [`${looked} of ${of} holders judged`, ready && `${ready} ready`, with_faults && `${with_faults} usable with faults`, needs_work && `${needs_work} need work`];
  return <p class="figures">{parts.filter(Boolean).join(", ")}</p>;
}

export function VerdictCard({ judged, catalogue, visit }: { judged: Judged; catalogue: Catalogue; visit: string }) {
  const { verdict } = judged;
  const sign = verdictSign(verdict.verdict);
  const checks = new Map(catalogue.checks.map((check) => [check.id, check]));
  const title = (id: string) => checks.get(id)?.title ?? id;
  const effect = (id: string) => catalogue.terms.effects.find((one) => one.id === id)?.title;
  const { drove } = verdict;
  const unlooked = verdict.unlooked;
  const range = rangeWords(verdict.range.up_to);
  return (
    <section class="card lit stack" aria-labelledby="verdict">
      <h2 id="verdict"><Mark tone={sign.tone} word={sign.word} /></h2>
      {range && <p>{range}</p>}
      <HoldersLine holders={verdict.holders} />
      {drove.length > 0 && (
        <div class="stack tight">
          <h3>What drove it</h3>
          <ul class="stack tight">
            {drove.map((one) => (
              <li key={one.check + one.place}>
                <a href={address("/visit", visit, "/check", one.check, { place: one.place })}>{title(one.check)}</a>
                {one.place && `, ${placeWords(one.place)}`}
                {one.faults.length > 0 && `: ${faultTitles(checks.get(one.check), one.faults)}`}
                {effect(one.effect) && <span class="soft"> ({effect(one.effect)!.toLowerCase()})</span>}
              </li>
            ))}
          </ul>
        </div>
      )}
      {unlooked.length > 0 && (
        <div class="stack tight">
          <h3>Not looked at yet, and a picture depends on it</h3>
          <ul class="stack tight">
            {unlooked.slice(0, LISTED).map((id) => <li key={id}><a href={address("/visit", visit, "/check", id)}>{title(id)}</a></li>)}
            {unlooked.length > LISTED && <li class="soft">and {unlooked.length - LISTED} more, in the groups below</li>}
          </ul>
        </div>
      )}
    </section>
  );
}

function faultTitles(check: Check | undefined, faults: readonly string[]): string {
  const known = check?.faults ?? [];
  return faults.map((id) => within(known.find((fault) => fault.id === id)?.title ?? id)).join(", ");
}
