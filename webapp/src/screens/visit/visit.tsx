// One piece on the table: worth it or not, what drove it, every check, its photos and what it is.
import { useEffect } from "preact/hooks";
import { Button } from "../../ui/button.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { PhotoStrip } from "../check/place_photos.tsx";
import { ApartOfPiece } from "../history/apart.tsx";
import { FitLine } from "../kit/fit_line.tsx";
import { InquiryLine } from "../inquiry/inquiry_line.tsx";
import { PhotoButton } from "../photo/photo_button.tsx";
import { BottomLine } from "./bottom_line.tsx";
import { Facts, openAskingPrice } from "./facts.tsx";
import { GroupList } from "./group_list.tsx";
import { Missing } from "./missing.tsx";
import { pieceTitle } from "./piece_title.ts";
import { SampleChoice } from "./sample_choice.tsx";
import { TagBar } from "./tag_bar.tsx";
import { useVisit } from "./use_visit.ts";
import { VerdictCard } from "./verdict_card.tsx";
import { plain } from "./view.ts";
import "./visit.css";
import { spanWords } from "./words.ts";

export default function Visit({ params, query }: ScreenInput) {
  const id = params["visit"]!;
  const ready = useVisit(id);
  const asksPrice = query["ask"] === "price" && Boolean(ready);
  useEffect(() => {
    if (!asksPrice) return;
    openAskingPrice();
    go(address("/visit", id), { replace: true });
  }, [asksPrice]);
  if (ready === null) return <Missing />;
  if (!ready) return <Waiting />;
  const { view, catalogue, judged } = ready;
  const session = view.session?.id;
  const hasSpeeds = view.piece.values["kind"] === "lens" && view.piece.values["type"] !== "barrel";
  const { short, full } = judged;
  return (
    <Screen
      key={id}
      keepPlace={id}
      title={pieceTitle(view.piece)}
      over={`Piece ${view.visit.values["tag"]}`}
      back={session ? address("/session", session) : "#/"}
      backWord="Back to the session"
      actions={<Button kind="bare" icon="page" label="Condition report" href={address("/visit", id, "/report")} />}
      under={<><TagBar open={view.open} current={id} /><BottomLine judged={judged} view={view} catalogue={catalogue} /></>}
    >
      <ApartOfPiece visit={id} piece={view.piece.id} />
      <div class="stack">
        <Button wide kind={short.done < short.of ? "strong" : "plain"} icon="clock" href={address("/visit", id, "/pass", "short")}>
          {short.done === 0 ? "Five-minute pass" : short.done < short.of ? `Five-minute pass: ${short.of - short.done} left, ${spanWords(short.left_s)}` : "Five-minute pass: done"}
        </Button>
        <Button wide kind={short.done === short.of && full.done < full.of ? "strong" : "plain"} icon="list" href={address("/visit", id, "/pass", "full")}>
          {full.done < full.of ? `Full pass: ${full.done} of ${full.of} looked at, ${spanWords(full.left_s)} left` : "Full pass: done"}
        </Button>
        {hasSpeeds && <Button wide icon="sound" href={address("/visit", id, "/shutter")}>Shutter by sound</Button>}
        <FitLine view={view} catalogue={catalogue} />
        <InquiryLine view={view} />
        <Button wide icon="coin" href={address("/visit", id, "/deal")}>Deal sheet</Button>
      </div>
      <SampleChoice view={view} />
      <VerdictCard judged={judged} catalogue={catalogue} visit={id} />
      <section class="stack tight" aria-labelledby="groups">
        <h2 id="groups">All checks</h2>
        <GroupList judged={judged} catalogue={catalogue} piece={plain(view.piece)} claims={view.claims} visit={id} />
      </section>
      <section class="stack tight" aria-labelledby="photos">
        <h2 id="photos">Photos</h2>
        <PhotoStrip photos={view.photos} visit={id} />
        <div class="tools"><PhotoButton spot={{ visit: id, check: null, place: "" }} /></div>
      </section>
      <Facts view={view} catalogue={catalogue} />
    </Screen>
  );
}
