// The end of a pass: the verdict, what is still open, and where to go from here.
import { Button } from "../../ui/button.tsx";
import { Screen } from "../../ui/screen.tsx";
import { BottomLine } from "../visit/bottom_line.tsx";
import { TagBar } from "../visit/tag_bar.tsx";
import type { ReadyVisit } from "../visit/use_visit.ts";
import { VerdictCard } from "../visit/verdict_card.tsx";
import "../visit/visit.css";
import { spanWords } from "../visit/words.ts";

export function PassDone({ ready, pass, onBefore }: { ready: ReadyVisit; pass: "short" | "full"; onBefore: () => void }) {
  const { view, judged, catalogue } = ready;
  const visit = view.visit.id;
  const left = judged[pass];
  const open = left.of - left.done;
  return (
    <Screen title="Through the pass" over={pass === "short" ? "Five minutes" : "Full pass"} back={`#/visit/${visit}`} under={<><TagBar open={view.open} current={visit} /><BottomLine judged={judged} view={view} catalogue={catalogue} /></>}>
      <p>{open === 0 ? "Every check of this pass has its answer." : `${open} ${open === 1 ? "check was" : "checks were"} left for later: about ${spanWords(left.left_s)}.`}</p>
      <VerdictCard judged={judged} catalogue={catalogue} visit={visit} />
      <div class="stack">
        {open > 0 && <Button wide kind="strong" icon="undo" href={`#/visit/${visit}/pass/${pass}`}>Take up what was left</Button>}
        {pass === "short" && <Button wide icon="list" href={`#/visit/${visit}/pass/full`}>Go on with the full pass</Button>}
        <Button wide icon="before" onClick={onBefore}>Back to the last look</Button>
        <Button wide href={`#/visit/${visit}`}>To the piece</Button>
      </div>
    </Screen>
  );
}
