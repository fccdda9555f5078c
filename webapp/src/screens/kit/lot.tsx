// What goes together: the pieces of one sale against each other, and each against the person's own kit.
import type { Catalogue } from "../../domain/catalogue.ts";
import { fitInLot, fitWithKit } from "../../domain/kit_fit.ts";
import { useLive } from "../../store/live.ts";
import { Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { sessionTitle } from "../session/session_title.ts";
import { Missing } from "../visit/missing.tsx";
import { useCatalogue } from "../visit/use_catalogue.ts";
import { kept, type OpenPiece, openPieces } from "../visit/view.ts";
import { FitFold, FitList } from "./fit_list.tsx";
import { useKit, useThings } from "./things.ts";

export default function LotFit({ params }: ScreenInput) {
  const id = params["session"]!;
  const catalogue = useCatalogue();
  const read = useLive(async (from) => {
    const session = await from.get(id);
    if (session?.kind !== "session" || !kept(session)) return null;
    const seller = session.values["seller"] ? await from.get(session.values["seller"]) : undefined;
    return { title: sessionTitle(session, seller), open: await openPieces(from, id) };
  }, [id]);
  if (read === null) return <Missing what="session" />;
  return read && catalogue ? <Lot id={id} catalogue={catalogue} {...read} /> : <Waiting />;
}

function Lot({ id, title, open, catalogue }: { id: string; title: string; open: readonly OpenPiece[]; catalogue: Catalogue }) {
  const unit = useLive(async (from) => (await from.meta.get("unit")) ?? "mm", []);
  const kit = useKit();
  const things = useThings(open, catalogue);
  const frame = { title: "What goes together", over: title, back: address("/session", id), backWord: "Back to the sale" };
  if (!unit || !kit || !things) return <Screen {...frame}><Waiting /></Screen>;
  // Two pieces may be called alike; their letters tell them apart.
  const named = (wanted: string) => `${open.find(({ piece }) => piece?.id === wanted)!.visit.values["tag"]}: ${things.find((one) => one.id === wanted)!.title}`;
  const pairs = fitInLot(things, catalogue, unit);
  const mine = things.filter((thing) => fitWithKit(thing, kit, catalogue, unit).length > 0);
  return (
    <Screen {...frame}>
      <section class="stack tight" aria-labelledby="lot">
        <h2 id="lot">Within this lot</h2>
        {pairs.length === 0
          ? <p class="soft">Nothing here goes with another piece: a camera wants lenses, holders or boards beside it.</p>
          : <ul class="stack">{pairs.map((one) => <FitFold key={`${one.a} ${one.b}`} title={`${named(one.a)} with ${named(one.b)}`} found={one} />)}</ul>}
      </section>
      {mine.map((thing) => (
        <section key={thing.id} class="stack tight" aria-labelledby={`mine-${thing.id}`}>
          <h2 id={`mine-${thing.id}`}>{named(thing.id)}, with your own things</h2>
          <FitList thing={thing} others={kit} catalogue={catalogue} unit={unit} />
        </section>
      ))}
      <p class="small soft">Of each piece the last figures count, from whichever look at it. What is missing is typed at its checks.</p>
    </Screen>
  );
}
