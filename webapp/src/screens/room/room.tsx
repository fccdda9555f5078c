// Room on the phone: photos and sounds that the server has confirmed can be let go here, and come back by a tap.
import { useState } from "preact/hooks";
import { useLive, useStore } from "../../store/live.ts";
import { syncNow } from "../../sync/engine.ts";
import { Button } from "../../ui/button.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { Screen } from "../../ui/screen.tsx";
import { tellFailure } from "../../ui/tell_failure.ts";
import { showToast } from "../../ui/toast.tsx";
import { dayWords } from "../visit/words.ts";
import { bringBack, letGo } from "./let_go.ts";
import { bytesOf, free, loadRoom, sizeWords, type Held, type SaleRoom } from "./room_facts.ts";

const DAY_MS = 86_400_000;
const AGES = [{ days: 7, words: "older than a week" }, { days: 30, words: "older than a month" }, { days: 0, words: "of every age" }] as const;

const files = (count: number): string => (count === 1 ? "1 photo or sound" : `${count} photos and sounds`);

export default function Room() {
  const store = useStore();
  const [turn, setTurn] = useState(0);
  const [working, setWorking] = useState(false);
  const read = useLive(async (from) => ({ paired: await from.meta.get("paired"), gone: await from.meta.get("let_go"), ...(await loadRoom(from)) }), [turn]);
  if (!read) return <Screen title="Room on this phone" back="#/device"><Waiting /></Screen>;
  const { held, sales, paired } = read;
  const loose = free(held);

  const work = async (task: () => Promise<void>) => {
    setWorking(true);
    try {
      await task();
    } catch (error) {
      tellFailure(error);
    }
    setWorking(false);
    setTurn((before) => before + 1);
  };
  const back = (hashes: readonly string[]) => void work(async () => {
    const came = await bringBack(store, hashes);
    showToast({ words: came === hashes.length ? `${files(came)} back on this phone` : `${came} of ${hashes.length} came; the rest stays on the server until there is a signal`, failed: came < hashes.length });
  });
  const go = (some: readonly Held[]) => void work(async () => {
    const went = await letGo(store, some.map((one) => one.hash));
    const bytes = bytesOf(some.filter((one) => went.includes(one.hash)));
    if (went.length < some.length) syncNow();
    showToast({
      words: went.length === 0 ? "Nothing was let go: the server has not got them" : `${files(went.length)} let go, ${sizeWords(bytes)} free${went.length < some.length ? "; the server had not got the rest, which stays" : ""}`,
      ...(went.length > 0 && { undo: () => back(went) }),
    });
  });

  return (
    <Screen title="Room on this phone" back="#/device" backWord="Back to Device">
      <section class="stack" aria-label="How much there is">
        <p><strong>{files(held.length)}</strong>, {sizeWords(bytesOf(held))}.{paired && ` The server has confirmed ${sizeWords(bytesOf(loose))} of it; ${held.length - loose.length === 0 ? "nothing waits" : `${sizeWords(bytesOf(held) - bytesOf(loose))} is on this phone alone and stays`}.`}</p>
        {!paired && <Note tone="tell"><p>This phone has no server, so every photo and sound here is the only one, and none can be let go before it is paired.</p><div class="row"><Button href="#/pair">Pair with a server</Button></div></Note>}
        {paired && <p class="soft">What is let go stays on the server: it is shown from there when there is a signal, and comes back by a tap. Answers and words stay here in any case.</p>}
      </section>
      {paired && loose.length > 0 && (
        <section class="stack" aria-label="Let go by age">
          <h2>Let go</h2>
          {AGES.map(({ days, words }) => {
            const some = loose.filter((one) => one.added_ms <= store.nowMs() - days * DAY_MS);
            return some.length > 0 && <Button key={days} wide disabled={working} onClick={() => go(some)}>{files(some.length)} {words}: {sizeWords(bytesOf(some))}</Button>;
          })}
        </section>
      )}
      {paired && sales.length > 0 && (
        <section class="stack" aria-label="Sale by sale">
          <h2>Sale by sale</h2>
          {sales.map((sale) => <Sale key={sale.id} sale={sale} working={working} go={go} back={back} />)}
        </section>
      )}
    </Screen>
  );
}

interface SaleProps { sale: SaleRoom; working: boolean; go: (some: readonly Held[]) => void; back: (hashes: readonly string[]) => void }

function Sale({ sale, working, go, back }: SaleProps) {
  const loose = free(sale.here);
  return (
    <div class="card stack tight">
      <p><strong>{sale.title}</strong>{sale.day && <span class="soft">, {dayWords(sale.day)}</span>}</p>
      <p class="soft small">{sizeWords(bytesOf(sale.here))} here{sale.gone.length > 0 && `, ${sizeWords(bytesOf(sale.gone))} on the server only`}</p>
      <div class="row">
        {loose.length > 0 && <Button disabled={working} label={`Let go: ${sizeWords(bytesOf(loose))} of ${sale.title}`} onClick={() => go(loose)}>Let go: {sizeWords(bytesOf(loose))}</Button>}
        {sale.gone.length > 0 && <Button icon="undo" disabled={working} label={`Bring back ${sizeWords(bytesOf(sale.gone))} of ${sale.title}`} onClick={() => back(sale.gone.map((one) => one.hash))}>Bring back</Button>}
      </div>
    </div>
  );
}
