// What had to be left out of a reckoning, and what to type so that it counts.
import type { Money } from "../../domain/money.ts";
import { Note } from "../../ui/notes.tsx";
import type { Reckoned } from "./use_deal.ts";

type Found = Pick<Reckoned, "terms" | "sheet" | "known"> & { currency: string };

export function missingWords({ terms, sheet, known, currency }: Found, asking: Money | null): string[] {
  const gaps = terms.missing;
  return [
    ...(gaps.includes("too_few") ? [`${known!.count === 1 ? "One sale is" : `${known!.count} sales are`} noted in this group: too few to reckon from. Note more prices, or type your own figure for the value.`] : []),
    ...(sheet.missing.includes("value") && !gaps.includes("too_few") ? ["What a working one is worth is not known: pick a group of your price notes, or type your own figure."] : []),
    ...(gaps.includes("asking") ? [`The price is asked in ${asking!.currency}: type a rate to ${currency}, and it counts.`] : []),
    ...(gaps.includes("terms") ? [`Figures of this deal are in another currency: type a rate to ${currency}, and they count.`] : []),
    ...(gaps.includes("habits") ? [`Your usual figures (weeks without it, margin) are in another currency: type a rate to ${currency}, and they count.`] : []),
    ...(sheet.missing.includes("currency") ? [`Some repair figures are not in ${currency} and are left out: type a rate, or put in your own figures.`] : []),
    ...(known && known.left_out > 0 ? [`${known.left_out} ${known.left_out === 1 ? "sale is" : "sales are"} left out for want of a rate to ${currency}.`] : []),
  ];
}

export function MissingFigures({ found, asking }: { found: Found; asking: Money | null }) {
  const words = missingWords(found, asking);
  if (words.length === 0) return null;
  return <Note tone="care" title="Missing"><ul class="stack tight">{words.map((one) => <li key={one}>{one}</li>)}</ul></Note>;
}
