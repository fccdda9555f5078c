// Talking points in large words to turn towards the seller: what is wrong, what it does, what it costs. No figure of an offer is on it.
import { dealTalk, talkText } from "../../domain/deal_talk.ts";
import type { Answer, Piece } from "../../domain/checks.ts";
import { shareText } from "../../device/share.ts";
import { Button } from "../../ui/button.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useVisit } from "../visit/use_visit.ts";
import { plain } from "../visit/view.ts";
import { within } from "../visit/words.ts";
import { useLater, useLedger, pricesIn, currencyOf } from "./use_deal.ts";
import "./deal.css";

export default function Talk({ params }: ScreenInput) {
  const id = params["visit"]!;
  const ready = useVisit(id, { alone: true });
  const ledger = useLedger();
  const talk = useLater(() => {
    if (!ready || !ledger) return undefined;
    const { view, catalogue } = ready;
    const { shared, costs } = pricesIn(view.costs, catalogue, ledger, currencyOf(null, view.visit.values["asking"] ?? null, ledger.habits));
    return dealTalk(plain(view.piece) as Piece, view.answers.map(plain) as Answer[], shared, costs);
  }, [ready?.view, ready?.catalogue, ledger]);
  if (ready === null) return <Missing />;
  if (!ready || !talk) return <Waiting />;
  const title = pieceTitle(ready.view.piece);
  const share = () => {
    shareText(title, talkText(talk, title)).then(
      (how) => { if (how === "copied") showToast({ words: "Copied" }); },
      () => tellFailure(new Error("this browser neither shares nor copies")),
    );
  };
  return (
    <Screen title={title} over="What was seen" back={address("/visit", id, "/deal")} backWord="Back to the deal sheet" foot={<Button wide icon="share" onClick={share}>Share as text</Button>}>
      <div class="talk stack wide">
        {talk.points.length > 0 && (
          <section class="stack tight" aria-labelledby="found">
            <h2 id="found">What I found</h2>
            <ul>
              {talk.points.map((point) => (
                <li key={point.cure + point.faults.map(({ what }) => what).join()} class="stack tight">
                  {point.faults.map((fault) => <p key={fault.what}><strong>{fault.what}</strong>{fault.where && ` (${fault.where})`}: {fault.does}</p>)}
                  <p class="figures">{[point.cure, point.cost, point.time].filter(Boolean).join(" ")}</p>
                </li>
              ))}
            </ul>
          </section>
        )}
        {talk.not_tried.length > 0 && (
          <section class="stack tight" aria-labelledby="not-tried">
            <h2 id="not-tried">What could not be tried here</h2>
            {talk.not_tried.map(({ why, list }) => (
              <div key={why} class="stack tight">
                <p class="soft">{why}</p>
                <ul>{list.map((one) => <li key={one.title + one.where}>{one.title}{one.where && `, ${within(one.where)}`}</li>)}</ul>
              </div>
            ))}
          </section>
        )}
        {talk.points.length === 0 && talk.not_tried.length === 0 && <p>Nothing wrong was found.</p>}
        <p>{talk.closing}</p>
      </div>
    </Screen>
  );
}
