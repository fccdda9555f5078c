// A new session in three taps: kind of venue, seller, start; everything can wait, and Start is always there.
import { useState } from "preact/hooks";
import { askToPersist } from "../../device/persist.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { BigChoice } from "../../ui/choices.tsx";
import { TextField } from "../../ui/field.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { plainText } from "../sales/search.ts";
import { MoneyField } from "../visit/money_field.tsx";
import { today } from "../visit/today.ts";
import { kept } from "../visit/view.ts";
import { SellerLine } from "./seller_line.tsx";
import { SellerPick } from "./seller_pick.tsx";
import { isFromAfar, startSession, type NewSession as Given } from "./start_session.ts";
import terms from "@catalogue/terms.json";

export default function NewSession() {
  const store = useStore();
  const sellers = useLive(async (from) => (await from.byKind("seller")).filter(kept), []) ?? [];
  const [given, setGiven] = useState<Given>({ venueKind: "", seller: null, sellerName: "", place: "", day: today(), asking: null, remote: false });
  const [starting, setStarting] = useState(false);
  const change = (part: Partial<Given>) => setGiven((now) => ({ ...now, ...part }));
  // A name typed in full is the seller of that name: nobody is noted twice, and the warning comes all the same.
  const typed = plainText(given.sellerName.trim());
  const picked = sellers.find((seller) => seller.id === given.seller) ?? (typed ? sellers.find((seller) => plainText(String(seller.values["name"] ?? "")) === typed) : undefined);

  const start = () => {
    setStarting(true);
    // The first work worth keeping: from here on the browser should not clear it by itself.
    void askToPersist().catch(() => undefined);
    startSession(store, { ...given, seller: picked?.id ?? null }).then(
      (id) => go(address("/session", id, { add: "1" }), { replace: true }),
      (error: unknown) => { setStarting(false); tellFailure(error, start); },
    );
  };

  return (
    <Screen title="New session" back="#/" backWord="Back to the sales" foot={<Button wide kind="strong" icon="onward" disabled={starting} onClick={start}>Start</Button>}>
      <BigChoice legend="Where are you?" value={given.venueKind || null} options={terms.venue_kinds.map(({ id, title }) => ({ value: id, label: title }))}
        onChoose={(venueKind) => change({ venueKind, remote: isFromAfar(venueKind) })} />
      <SellerPick sellers={sellers} venueKind={given.venueKind} picked={given.seller} typed={given.sellerName}
        onPick={(seller) => change({ seller: seller?.id ?? null, sellerName: "", ...(seller && !given.place ? { place: seller.values["place"] ?? "" } : {}) })}
        onType={(sellerName) => change({ sellerName, seller: null })} />
      {picked && <SellerLine key={picked.id} seller={picked} />}
      <details class="fold">
        <summary><span class="grow">Place, day, price</span><span class="soft small">may wait</span></summary>
        <div class="inside stack">
          <TextField label="Place" value={given.place} max={200} onInput={(place) => change({ place })} />
          <TextField label="Day" kind="date" value={given.day} onInput={(day) => change({ day: day || today() })} />
          <MoneyField label="Price for the whole lot" hint="Pieces may have their own prices later." saved={given.asking} onSave={(asking) => change({ asking })} />
          <Button pressed={given.remote} onClick={() => change({ remote: !given.remote })}>From far away: answers are claims first</Button>
        </div>
      </details>
    </Screen>
  );
}
