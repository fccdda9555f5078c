// One line on the piece's screen: how it goes with the person's kit and with the pieces beside it.
import type { Catalogue } from "../../domain/catalogue.ts";
import { fitWithKit } from "../../domain/kit_fit.ts";
import { Button } from "../../ui/button.tsx";
import { address } from "../../ui/route.ts";
import type { VisitView } from "../visit/view.ts";
import { countWords } from "./kit_words.ts";
import { useKit, useLot, usePieceThing } from "./things.ts";

export function FitLine({ view, catalogue }: { view: VisitView; catalogue: Catalogue }) {
  const kit = useKit();
  const lot = useLot(view, catalogue);
  const thing = usePieceThing(view.piece, catalogue);
  if (!thing || !kit || !lot) return null;
  // The words of single answers are not shown here, so the unit does not matter.
  const words = countWords(fitWithKit(thing, [...kit, ...lot], catalogue, "mm"));
  return <Button wide icon="ruler" href={address("/visit", view.visit.id, "/fit")}>{words ? `Does it fit? ${words}` : "Does it fit?"}</Button>;
}
