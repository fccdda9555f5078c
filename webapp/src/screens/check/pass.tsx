// A pass, short or full: one check after the other, taken up where it was left, awake and undisturbed.
import { useEffect } from "preact/hooks";
import { fullPass, places, shortPass } from "../../domain/checks.ts";
import { keepAwake } from "../../device/wake_lock.ts";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { useBusy } from "../../ui/busy.ts";
import { Waiting } from "../../ui/notes.tsx";
import { address, go } from "../../ui/route.ts";
import { Missing } from "../visit/missing.tsx";
import { useVisit, type ReadyVisit } from "../visit/use_visit.ts";
import { plain } from "../visit/view.ts";
import { CheckScreen } from "./check_screen.tsx";
import { PassDone } from "./pass_done.tsx";
import { firstOpen, neighbour, nextStep, placeAt, type Step, stepBefore, stepForward, type StepsInput, withAnswered } from "./steps.ts";

const DONE = "done";

export default function Pass({ params, query }: ScreenInput) {
  const visit = params["visit"]!;
  const ready = useVisit(visit);
  useBusy();
  useEffect(() => keepAwake(), []);
  if (ready === null) return <Missing />;
  if (!ready) return <Waiting />;
  return <ReadyPass ready={ready} pass={params["pass"] === "full" ? "full" : "short"} at={query["at"]} place={query["place"] ?? ""} />;
}

function ReadyPass({ ready, pass, at, place }: { ready: ReadyVisit; pass: "short" | "full"; at: string | undefined; place: string }) {
  const { view, judged } = ready;
  const piece = plain(view.piece);
  const checks = pass === "short" ? shortPass(judged.checks) : fullPass(judged.checks);
  const byId = new Map(judged.checks.map((check) => [check.id, check]));
  const input: StepsInput = {
    order: checks.map((check) => check.id),
    placesOf: (id) => (byId.has(id) ? places(byId.get(id)!, piece) : []),
    answered: (id, where) => judged.resultAt(id, where) !== undefined,
  };
  const to = (step: Step | null) => go(address("/visit", view.visit.id, "/pass", pass, step ? { at: step.check, place: step.place } : { at: DONE }), { replace: true });

  const now = at && byId.has(at) ? { check: at, place: placeAt(input, at, place) } : at === DONE ? null : firstOpen(input);
  if (!now) {
    const last = input.order.at(-1)!;
    return <PassDone ready={ready} pass={pass} onBefore={() => to({ check: last, place: input.placesOf(last).at(-1)! })} />;
  }

  const before = stepBefore(input, now);
  const index = input.order.indexOf(now.check);
  const name = pass === "short" ? "Five minutes" : "Full pass";
  return (
    <CheckScreen
      ready={ready}
      check={byId.get(now.check)!}
      place={now.place}
      over={index < 0 ? `${name} · one look beside it` : `${name} · ${index + 1} of ${input.order.length}`}
      part={(index + 1) / input.order.length}
      addressOf={(id) => address("/visit", view.visit.id, "/pass", pass, { at: id })}
      onPlace={(where) => to({ check: now.check, place: where })}
      onNext={(done) => to(nextStep(withAnswered(input, now.check, done), now))}
      onBefore={before ? () => to(before) : undefined}
      onLater={() => to(stepForward(input, now))}
      onNeighbour={(by) => { const step = neighbour(input, now, by); if (step) to(step); }}
    />
  );
}
