// Bought, for how much and what was in it; or passed, with the reason.
import { useState } from "preact/hooks";
import { showMoney, type Money } from "../../domain/money.ts";
import { useStore } from "../../store/live.ts";
import { randomId } from "../../store/random_id.ts";
import { Button } from "../../ui/button.tsx";
import { Versions } from "../history/versions.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import type { ReadyVisit } from "../visit/use_visit.ts";
import { dayWords } from "../visit/words.ts";
import { DecisionSheet, INCLUDED } from "./decision_sheet.tsx";
import { put } from "./put.ts";
import type { After } from "./use_after.ts";

interface Decision { bought: boolean; reason?: string; included?: string[] }

/** What a verdict says about the state of a thing that was sold. */
const STATES: Record<string, string> = { ready_to_use: "working", usable_with_faults: "working", needs_work_first: "faulty", parts_only: "faulty" };

export function decisionWords(decision: Decision, paid: Money | null | undefined, day: string | undefined): string {
  const when = day ? ` on ${dayWords(day)}` : "";
  if (!decision.bought) return `Passed${when}${decision.reason ? `: ${decision.reason}` : ""}`;
  const held = INCLUDED.filter(({ value }) => decision.included?.includes(value)).map(({ label }) => label.toLowerCase());
  return `Bought${when}${paid ? ` for ${showMoney(paid)}` : ""}${held.length > 0 ? `, with ${held.join(" and ")} in it` : ""}`;
}

export function DecisionPart({ ready: { view, judged }, after: { deal } }: { ready: ReadyVisit; after: After }) {
  const store = useStore();
  const [asking, setAsking] = useState<"bought" | "passed" | null>(null);
  const values = deal.record?.values ?? {};
  const decision = values["decision"] as Decision | undefined;
  const paid = values["paid"] as Money | null | undefined;
  const about = { piece: view.piece.id, session: view.session?.id ?? null };
  const notePrice = () => {
    const included = Object.fromEntries(INCLUDED.map(({ value }) => [value, decision!.included?.includes(value) ?? false]));
    put(store, "price_note", randomId(), {
      what: pieceTitle(view.piece).slice(0, 120), group: deal.terms?.group ?? "", day: values["day"], price: paid, sold: true, state: STATES[judged.verdict.verdict] ?? "unknown",
      ...(view.session?.values["venue_kind"] && { venue_kind: view.session.values["venue_kind"] }), included, deleted: false,
    }, "Put into your price notes");
  };
  return (
    <section class="card stack" aria-labelledby="decision">
      <h2 id="decision">What became of it</h2>
      <Versions record={deal.id} fields={["decision", "paid", "day"]} />
      {decision && <p class="figures">{decisionWords(decision, paid, values["day"])}</p>}
      <div class="two">
        <Button icon="coin" onClick={() => setAsking("bought")}>{decision?.bought ? "Change it" : "I bought it"}</Button>
        <Button icon="skip" onClick={() => setAsking("passed")}>{decision && !decision.bought ? "Change the reason" : "I passed"}</Button>
      </div>
      {decision?.bought && paid && <Button kind="quiet" onClick={notePrice}>Put this price into my price notes</Button>}
      {asking && (
        <DecisionSheet bought={asking === "bought"} saved={decision?.bought === (asking === "bought") ? { ...decision, paid, day: values["day"] } : null} asked={view.visit.values["asking"] ?? null}
          onDone={(fields, words) => { put(store, "deal", deal.id, { ...about, ...fields, deleted: false }, words); setAsking(null); }} onClose={() => setAsking(null)} />
      )}
    </section>
  );
}
