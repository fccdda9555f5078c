// The line that is always there, in one line, for the screens where a hand is busy.
import { Mark } from "../../ui/mark.tsx";
import { address } from "../../ui/route.ts";
import type { Judged } from "./judge.ts";
import { spanWords, verdictSign } from "./words.ts";

export interface BriefLineProps {
  judged: Judged;
  visit: string;
  check?: string;
  /** Where a check is opened; on its own unless said. */
  addressOf?: (check: string) => string;
}

export function BriefLine({ judged, visit, check, addressOf = (id) => address("/visit", visit, "/check", id) }: BriefLineProps) {
  const { line } = judged;
  const sign = verdictSign(line.verdict);
  const dangers = line.could_kill.length;
  return (
    <section class="bottom-line brief" aria-label="Worth it?">
      <p>
        <span class="answer"><Mark tone={sign.tone} word={sign.word} /></span>
        <span class="soft">{dangers === 0 ? "nothing left could kill it" : dangers === 1 ? "1 look could still kill it" : `${dangers} looks could still kill it`}</span>
      </p>
      {line.next && line.next.check !== check && (
        <a class="next" href={addressOf(line.next.check)}>Next: {line.next.title}, {spanWords(line.next.seconds)}</a>
      )}
    </section>
  );
}
