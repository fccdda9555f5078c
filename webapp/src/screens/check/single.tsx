// One check opened from the list: answered, it leads on through its group and then back to the piece.
import { useEffect } from "preact/hooks";
import type { Check } from "../../domain/catalogue.ts";
import { places } from "../../domain/checks.ts";
import { keepAwake } from "../../device/wake_lock.ts";
import { ErrorNote, Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Screen } from "../../ui/screen.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { Missing } from "../visit/missing.tsx";
import { useVisit, type ReadyVisit } from "../visit/use_visit.ts";
import { plain } from "../visit/view.ts";
import { CheckScreen } from "./check_screen.tsx";
import { neighbour, nextStep, placeAt, type Step, stepBefore, stepForward, type StepsInput, withAnswered } from "./steps.ts";

export default function Single({ params, query }: ScreenInput) {
  const ready = useVisit(params["visit"]!);
  useEffect(() => keepAwake(), []);
  if (ready === null) return <Missing />;
  if (!ready) return <Waiting />;
  const check = ready.judged.checks.find((one) => one.id === params["check"]);
  if (!check) {
    return (
      <Screen title="No such check here" back={address("/visit", params["visit"]!)}>
        <ErrorNote what="This check does not belong to this piece." todo="Go back to the piece and pick from its list. If you changed the kind of piece, its checks changed with it." />
      </Screen>
    );
  }
  return <ReadySingle ready={ready} check={check} wanted={query["place"]} />;
}

function ReadySingle({ ready, check, wanted }: { ready: ReadyVisit; check: Check; wanted: string | undefined }) {
  const { view, catalogue, judged } = ready;
  const piece = plain(view.piece);
  const visit = view.visit.id;
  const group = judged.checks.filter((one) => one.group === check.group);
  const byId = new Map(group.map((one) => [one.id, one]));
  const input: StepsInput = {
    order: group.map((one) => one.id),
    placesOf: (id) => places(byId.get(id)!, piece),
    answered: (id, where) => judged.resultAt(id, where) !== undefined,
  };
  const place = placeAt(input, check.id, wanted);
  const now = { check: check.id, place };
  const to = (step: Step | null) => {
    if (step) go(address("/visit", visit, "/check", step.check, { place: step.place }), { replace: true });
    else go(address("/visit", visit));
  };
  const before = stepBefore(input, now);
  const title = catalogue.groups.find((one) => one.id === check.group)?.title ?? "";
  return (
    <CheckScreen
      ready={ready}
      check={check}
      place={place}
      over={title}
      addressOf={(id) => address("/visit", visit, "/check", id)}
      onPlace={(where) => to({ check: check.id, place: where })}
      onNext={(done) => to(nextStep(withAnswered(input, now.check, done), now))}
      onBefore={before ? () => to(before) : undefined}
      onLater={() => to(stepForward(input, now))}
      onNeighbour={(by) => { const step = neighbour(input, now, by); if (step) to(step); }}
    />
  );
}
