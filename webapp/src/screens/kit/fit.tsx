// Does it fit: one piece against the person's own kit and against the other pieces on the table.
import { missingFacts } from "../../domain/kit_facts.ts";
import { useLive, useStore } from "../../store/live.ts";
import { Button } from "../../ui/button.tsx";
import { Note, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { tellFailure } from "../../ui/tell_failure.ts";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { type ReadyVisit, useVisit } from "../visit/use_visit.ts";
import { FitList } from "./fit_list.tsx";
import { useKit, useLot, usePieceThing } from "./things.ts";

export default function FitScreen({ params }: ScreenInput) {
  const ready = useVisit(params["visit"]!);
  if (ready === null) return <Missing />;
  return ready ? <ReadyFit ready={ready} /> : <Waiting />;
}

function ReadyFit({ ready: { view, catalogue } }: { ready: ReadyVisit }) {
  const store = useStore();
  const unit = useLive(async (from) => (await from.meta.get("unit")) ?? "mm", []);
  const kit = useKit();
  const lot = useLot(view, catalogue);
  const thing = usePieceThing(view.piece, catalogue);
  const frame = { title: "Does it fit?", over: pieceTitle(view.piece), back: address("/visit", view.visit.id), backWord: "Back to the piece" };
  if (!unit || !kit || !lot || thing === undefined) return <Screen {...frame}><Waiting /></Screen>;
  if (!thing) return <Screen {...frame}><Note tone="tell"><p>Cameras, lenses, holders and lens boards are held against each other. This piece has nothing to hold.</p></Note></Screen>;
  const missing = missingFacts(thing.kind, thing.facts, catalogue);
  const own = () => {
    store.create("kit_item", { kind: thing.kind, title: thing.title, facts: thing.facts })
      .then((id) => go(address("/kit", id)), (error: unknown) => tellFailure(error, own));
  };
  return (
    <Screen {...frame}>
      <section class="stack tight" aria-labelledby="kit">
        <h2 id="kit">With your own things</h2>
        {kit.length === 0
          ? <Note tone="tell" title="Your kit is empty"><p>Put in your cameras, lenses and holders once; every piece at a sale is then held against them.</p><div class="row"><Button kind="strong" icon="plus" href="#/kit">My kit</Button></div></Note>
          : <FitList thing={thing} others={kit} catalogue={catalogue} unit={unit} />}
      </section>
      {lot.length > 0 && (
        <section class="stack tight" aria-labelledby="lot">
          <h2 id="lot">With what lies beside it</h2>
          <FitList thing={thing} others={lot} catalogue={catalogue} unit={unit} />
        </section>
      )}
      {missing.length > 0 && (
        <details class="fold">
          <summary>Not known of this piece ({missing.length})</summary>
          <ul class="inside stack tight">{missing.map(({ fact, title, hint }) => <li key={fact}><strong>{title}.</strong> {hint}</li>)}</ul>
        </details>
      )}
      <div class="stack">
        <Button wide href="#/kit">My kit</Button>
        <Button wide icon="plus" onClick={own}>I bought it: put it into my kit</Button>
      </div>
    </Screen>
  );
}
