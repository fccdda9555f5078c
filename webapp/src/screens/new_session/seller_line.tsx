// How the seller dealt before, in one plain line, before anybody deals again.
import { past } from "../../domain/sellers.ts";
import { useLive } from "../../store/live.ts";
import type { Rec } from "../../store/store.ts";
import { Note } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { kept, plain } from "../visit/view.ts";

export function SellerLine({ seller }: { seller: Rec }) {
  const dealings = useLive(async (store) => (await store.children(seller.id, "dealing")).filter(kept), [seller.id]);
  if (!dealings) return null;
  const history = past(seller.id, dealings.map(plain));
  if (history.dealings === 0) return <p class="soft">First time with {seller.values["name"] || "this seller"}.</p>;
  return (
    <Note tone={history.unfair > 0 ? "care" : "tell"} title={seller.values["name"]}>
      <p>{history.line}</p>
      <p><a href={address("/seller", seller.id)}>All dealings</a></p>
    </Note>
  );
}
