// The answer to "so, buy or not?" in the line that is always there: it comes from the deal sheet and hides until held.
import type { Catalogue } from "../../domain/catalogue.ts";
import type { VisitView } from "../visit/view.ts";
import { Held } from "./held.tsx";
import { useReckoned } from "./use_deal.ts";
import { about, BUY_WORDS } from "./words.ts";

/** Nothing where no value is known. */
export function BuyLine({ view, catalogue }: { view: VisitView; catalogue: Catalogue }) {
  const found = useReckoned(view, catalogue);
  const { ceiling } = found?.sheet ?? {};
  if (!found || !ceiling) return null;
  const money = (minor: number) => about(minor, found.currency);
  return (
    <Held brief words="Hold: so, buy or not?">{() => (
      <p class="figures"><strong>{found.buy ? BUY_WORDS[found.buy.word] : "No price asked yet"}</strong>: at most {money(ceiling.middle_minor)} ({money(ceiling.low_minor)} to {money(ceiling.high_minor)}).</p>
    )}</Held>
  );
}
