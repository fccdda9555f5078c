// How the seller dealt before, in one plain line, before anybody deals again.
import { claimLine } from "../../domain/seller_story.ts";
import { tally } from "../../domain/claim_outcome.ts";
import { past } from "../../domain/sellers.ts";
import { useLive } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Note } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { ownDealings, readSeller } from "../sellers/read_seller.ts";
import { plain } from "../visit/view.ts";

export function SellerLine({ seller }: { seller: Rec }) {
  const view = useLive((store) => readSeller(store, seller.id), [seller.id]);
  if (!view) return null;
  const history = past(view.seller.id, ownDealings(view));
  const claims = tally(view.claims.map(plain), view.answers);
  if (history.dealings === 0 && claims.held + claims.did_not_hold === 0) return <p class="soft">First time with {seller.values["name"] || "this seller"}.</p>;
  const careful = history.unfair > 0 || history.hid_it > 0;
  return (
    <Note tone={careful ? "care" : "tell"} title={view.seller.values["name"]}>
      <p>{history.line}</p>
      {claims.held + claims.did_not_hold > 0 && <p>{claimLine(claims)}</p>}
      {careful && <p>No reason to turn away: look at everything yourself, and agree on how it may go back before you pay.</p>}
      <p><a href={address("/seller", view.seller.id)}>The whole story</a></p>
    </Note>
  );
}
