// What was claimed about this check, dated, with who said so and what stands behind it.
import type { Catalogue, Check } from "../../domain/catalogue.ts";
import type { Rec } from "../../store/store.ts";
import { useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Mark } from "../../ui/mark.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Versions } from "../history/versions.tsx";
import { dayWords, outcomeSign } from "../visit/words.ts";

const BY: Record<string, string> = { seller: "the seller", earlier_owner: "an earlier owner", repairer: "a repairer", other: "somebody else" };

export function ClaimLines({ claims, check, place, catalogue }: { claims: readonly Rec[]; check: Check; place: string; catalogue: Catalogue }) {
  const store = useStore();
  const here = claims.filter((claim) => claim.values["check"] === check.id && claim.values["place"] === place);
  if (here.length === 0) return null;
  const evidence = (id: string) => catalogue.terms.evidence_kinds.find((one) => one.id === id)?.title;
  const takeBack = (id: string) => {
    store.remove("claim", id).then(
      () => showToast({ words: "Claim taken off", undo: () => { void store.set("claim", id, { deleted: false }).catch((error: unknown) => tellFailure(error)); } }),
      (error: unknown) => tellFailure(error),
    );
  };
  return (
    <section class="stack tight" aria-label="Claims">
      <h2>Claimed</h2>
      <ul class="lines">
        {here.map(({ id, values }) => {
          const sign = outcomeSign(values["asserted"]?.outcome);
          return (
            <li key={id} class="line">
              <span />
              <span>
                <span class="under"><Mark tone={sign.tone} word={sign.word} hollow /></span>
                <Versions record={id} check={check.id} />
                {values["words"] && <span class="name">“{values["words"]}”</span>}
                <span class="under">{[dayWords(values["day"]), BY[values["by"]] ?? "", (evidence(values["evidence"]) ?? "").toLowerCase()].filter(Boolean).join(", ")}</span>
              </span>
              <Button kind="bare" icon="bin" label="Take this claim off" onClick={() => takeBack(id)} />
            </li>
          );
        })}
      </ul>
    </section>
  );
}
