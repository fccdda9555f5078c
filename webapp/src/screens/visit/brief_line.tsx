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
  /** Instead of following the address. */
  onPick?: (event: MouseEvent, check: string) => void;
}

export function BriefLine({ judged, visit, check, addressOf = (id) => address("/visit", visit, "/check", id), onPick }: BriefLineProps) {
  const { line } = judged;
  const { next } = line;
  const sign = verdictSign(line.verdict);
  const dangers = line.could_kill.length;
  return (
    <section class="bottom-line brief" aria-label="Worth it?">
      <p>
        <span class="answer"><Mark tone={sign.tone} word={sign.word} /></span>
        <span class="soft">{dangers === 0 ? "nothing left could kill it" : dangers === 1 ? "1 look could still kill it" : `${dangers} looks could still kill it`}</span>
      </p>
      {next && next.check !== check && (
        <a class="next" href={addressOf(next.check)} onClick={(event) => onPick?.(event, next.check)}>Next: {next.title}, {spanWords(next.seconds)}</a>
      )}
    </section>
  );
}
