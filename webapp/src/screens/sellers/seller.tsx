// One seller: how fair they were with its doubt, whether their claims held, and the story with them in time.
import { useMemo, useState } from "preact/hooks";
import { head, rankedSellers, type SellerCount, type SellerEntry, usual } from "../../domain/seller_fairness.ts";
import { claimLine, sellerStory } from "../../domain/seller_story.ts";
import { type Dealing, past } from "../../domain/sellers.ts";
import type { Rec } from "../../store/store.ts";
import { useLive } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { ErrorNote, Note, Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { Versions } from "../history/versions.tsx";
import { today } from "../visit/today.ts";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { kept, plain } from "../visit/view.ts";
import { DealingSheet } from "./dealing_sheet.tsx";
import { fairWords, heldWords, usualWords } from "./fair_words.ts";
import { JoinedEntries } from "./merging.tsx";
import { entriesOf, ownDealings, readSeller, storyInput } from "./read_seller.ts";
import { SellerFacts } from "./seller_facts.tsx";
import { sellerText } from "./seller_text.ts";
import { StoryLines } from "./story_lines.tsx";
import "./sellers.css";

export default function Seller({ params }: ScreenInput) {
  const id = params["seller"]!;
  const catalogue = useCatalogue();
  // An answer of null says that the phone looked and found nothing.
  const view = useLive((store) => readSeller(store, id), [id]);
  const log = useLive(async (store) => ({ sellers: (await store.byKind("seller")).filter(kept), dealings: (await store.byKind("dealing")).filter(kept) }), []);
  const [adding, setAdding] = useState(false);
  const story = useMemo(() => (view && catalogue ? sellerStory(...storyInput(view), catalogue) : undefined), [view, catalogue]);

  if (view === null) {
    return (
      <Screen title="Seller" back="#/sellers">
        <ErrorNote what="This seller is not on this phone." todo="Go back to the list; if another phone added them, they come with the next sync." />
      </Screen>
    );
  }
  if (!view || !log || !catalogue || !story) return <Screen title="Seller" back="#/sellers"><Waiting /></Screen>;

  const { seller, others } = view;
  const { fair, prior } = standingOf(seller, log);
  const summary = past(seller.id, ownDealings(view));
  const tested = story.claims.held + story.claims.did_not_hold;
  const text = () => sellerText({ seller, others, events: story.events, dealings: view.dealings, claims: view.claims, titles: new Map(catalogue.checks.map((check) => [check.id, check.title])), day: today() });
  return (
    <Screen title={seller.values["name"] || "Seller"} back="#/sellers" backWord="Back to the sellers" foot={<Button kind="strong" icon="plus" wide onClick={() => setAdding(true)}>Note a dealing</Button>}>
      <Note tone={summary.unfair > 0 || summary.hid_it > 0 ? "care" : "tell"}>
        <p>{summary.line}</p>
        {fair.of > 0 && <p>{fairWords(fair)}</p>}
        <p class="soft small">{usualWords(prior, seller.values["venue_kind"], fair.of)}</p>
        <p>{claimLine(story.claims)}{story.held && ` ${heldWords(story.held, story.claims.held, tested)}`}</p>
      </Note>
      <section class="stack tight" aria-labelledby="story">
        <h2 id="story">In time</h2>
        {story.events.length === 0 ? <p class="soft">Nothing noted yet.</p> : <StoryLines events={story.events} dealings={view.dealings} />}
      </section>
      <JoinedEntries others={others} />
      {[seller, ...others].map((one) => <Versions key={one.id} record={one.id} />)}
      <SellerFacts key={seller.id} view={view} text={text} />
      {adding && <DealingSheet seller={seller.id} sessions={[...view.sessions].sort((a, b) => String(b.values["day"]).localeCompare(String(a.values["day"])))} onClose={() => setAdding(false)} />}
    </Screen>
  );
}

/** Their own share, and the usual one it leans on. */
function standingOf(seller: Rec, { sellers, dealings }: { sellers: readonly Rec[]; dealings: readonly Rec[] }) {
  const entries = entriesOf(sellers);
  const ranked = rankedSellers(Object.values(entries), dealings.map((one) => plain(one) as Dealing & SellerEntry));
  const counts: SellerCount[] = ranked.map(({ seller: id, fair, of }) => ({ venue_kind: entries[id]?.venue_kind || "", fair, of }));
  const first = head(seller.id, entries);
  return { fair: ranked.find((one) => one.seller === first)!, prior: usual(counts, seller.values["venue_kind"] || "") };
}
