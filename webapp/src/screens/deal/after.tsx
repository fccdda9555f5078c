// After the deal: bought or passed, repairs with their promised days, and the first film.
import { Button } from "../../ui/button.tsx";
import { Waiting } from "../../ui/notes.tsx";
import { address } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { Missing } from "../visit/missing.tsx";
import { pieceTitle } from "../visit/piece_title.ts";
import { useVisit } from "../visit/use_visit.ts";
import { DecisionPart } from "./decision_part.tsx";
import { FilmPart } from "./film_part.tsx";
import { RepairPart } from "./repair_part.tsx";
import { useAfter } from "./use_after.ts";

export default function AfterDeal({ params }: ScreenInput) {
  const id = params["visit"]!;
  const ready = useVisit(id);
  const after = useAfter(id);
  if (ready === null || after === null) return <Missing />;
  if (!ready || !after) return <Waiting />;
  return (
    <Screen keepPlace={`after ${id}`} title="After the deal" over={pieceTitle(ready.view.piece)} back={address("/visit", id)} backWord="Back to the piece">
      <DecisionPart ready={ready} after={after} />
      <RepairPart ready={ready} after={after} />
      <FilmPart ready={ready} after={after} />
      <Button wide icon="coin" href={address("/visit", id, "/deal")}>Deal sheet</Button>
    </Screen>
  );
}
