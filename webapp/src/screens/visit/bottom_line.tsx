// The line that is always there: so, is it worth it, what could still kill it, and which look pays most next.
import type { Catalogue } from "../../domain/catalogue.ts";
import { showMoney } from "../../domain/money.ts";
import { Icon } from "../../ui/icon.tsx";
import { Mark } from "../../ui/mark.tsx";
import { address } from "../../ui/route.ts";
import { BuyLine } from "../deal/buy_line.tsx";
import type { Judged } from "./judge.ts";
import type { VisitView } from "./view.ts";
import { spanWords, verdictSign, within } from "./words.ts";

/** At most this many dangers are named; the rest are counted. */
const NAMED = 2;

function killWords(line: Judged["line"]): string {
  const dangers = line.could_kill;
  if (dangers.length === 0) return "Nothing left that could kill it";
  const rest = dangers.length - NAMED;
  return `Could still kill it: ${dangers.slice(0, NAMED).map((one) => within(one.title)).join(", ")}${rest > 0 ? ` and ${rest} more` : ""}`;
}

function worthWords({ worth, missing }: Judged["line"]): string {
  if (!worth) return missing === "currency" ? "the repair figures are in another currency" : "no asking price yet";
  if (worth.high_minor <= 0) return "repairs cost more than is asked";
  const money = (minor: number) => (minor <= 0 ? "nothing" : showMoney({ minor, currency: worth.currency }));
  if (worth.low_minor === worth.high_minor) return `asking price less repairs: ${money(worth.likely_minor)}`;
  return `asking price less repairs: about ${money(worth.likely_minor)} (${money(worth.low_minor)} to ${money(worth.high_minor)})`;
}

export function BottomLine({ judged, view, catalogue }: { judged: Judged; view: VisitView; catalogue: Catalogue }) {
  const { line } = judged;
  const visit = view.visit.id;
  const sign = verdictSign(line.verdict);
  const worth = worthWords(line);
  const asks = !line.worth && line.missing !== "currency";
  return (
    <section class="bottom-line" aria-label="Worth it?">
      <p class="answer"><Mark tone={sign.tone} word={sign.word} />{asks ? <a class="worth" href={address("/visit", visit, { ask: "price" })}>{worth}</a> : <span class="worth figures">{worth}</span>}</p>
      <BuyLine view={view} catalogue={catalogue} />
      <p>{killWords(line)}</p>
      {line.next && (
        <a class="next-look" href={address("/visit", visit, "/check", line.next.check)}>
          <Icon name="eye" /><span>Next look: {line.next.title}, {spanWords(line.next.seconds)}</span>
        </a>
      )}
    </section>
  );
}
