// Bellows: what a camera's draw gives a lens, from infinity to the nearest, and how much longer to expose; in a visit or at the bench.
import { focalFigure } from "../../domain/aperture.ts";
import { bellowsFactor, reach } from "../../domain/bellows.ts";
import { showLength } from "../../domain/lengths.ts";
import { fixed } from "../../domain/rounding.ts";
import { figure, readFigure } from "../../domain/uncertainty.ts";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { type Asked, mmIn, reckon } from "./plan.ts";
import { NotYet } from "./not_yet.tsx";
import { type Desk, ToolFrame } from "./tool_frame.tsx";

const CHECK = "camera.bellows.reach";
const PLAN: readonly Asked[] = [
  { id: "shortest", measure: "shortest_mm", label: "Shortest, lens board to film", reading: { check: CHECK, reading: "shortest" } },
  { id: "longest", measure: "longest_mm", label: "Longest, lens board to film", reading: { check: CHECK, reading: "longest" } },
  { id: "focal", measure: "focal_mm", label: "Focal length of the lens" },
  { id: "flange", measure: "flange_mm", label: "Its board to film at infinity", hint: "Only for a telephoto, or where it is known", optional: true },
  { id: "free", measure: "extension_mm", label: "Least draw at which the front still moves", hint: "Try rise and swing; where the folds begin to hold it", optional: true },
  { id: "extension", measure: "extension_mm", label: "Draw of the picture in mind", hint: "For its longer exposure", optional: true },
];
const INFINITY = {
  yes: "It reaches infinity.",
  cannot_close_up: "The bellows cannot be pushed in far enough for infinity: a recessed board is needed.",
  cannot_draw_out: "The bellows cannot be drawn out far enough for infinity: a board that stands forward is needed.",
  cannot_tell: "It is too close to say: try it on a far edge.",
} as const;

export default function Bellows(input: ScreenInput) {
  return (
    <ToolFrame input={input} name="bellows" title="Bellows and reach" withTool plan={PLAN} about="From the lens board to the film, pushed in and drawn right out. A lens wants about its focal length for infinity, and twice that for life size.">
      {(desk) => <Result {...desk} />}
    </ToolFrame>
  );
}

function Result({ words, unit, catalogue, readWith }: Desk) {
  const found = reckon(() => {
    const [shortest, longest, focal] = [mmIn(words, "shortest", unit), mmIn(words, "longest", unit), mmIn(words, "focal", unit)];
    if (shortest === null || longest === null || focal === null) return null;
    const flange = mmIn(words, "flange", unit);
    const drawn = reach(readFigure(shortest, readWith("shortest")), readFigure(longest, readWith("longest")), focalFigure(focal, catalogue), flange === null ? null : figure(flange, 0), mmIn(words, "free", unit));
    const extension = mmIn(words, "extension", unit);
    return { drawn, factor: extension === null ? null : bellowsFactor(extension, focal) };
  });
  if (!found || "wrong" in found) return <NotYet wrong={found?.wrong} words="Type both draws and a focal length." />;
  const { drawn, factor } = found.value;
  return (
    <section class="stack" aria-labelledby="result">
      <h2 id="result">What it comes to</h2>
      <div class="card lit stack tight">
        <p>{INFINITY[drawn.infinity]} {drawn.draw_over_mm > 0 && `Draw left after it: ${showLength(drawn.draw_over_mm, unit)}.`}</p>
        {drawn.magnification !== null && drawn.nearest_mm !== null && <p>Drawn right out: {fixed(drawn.magnification, 2)} times life size, sharp from {showLength(drawn.nearest_mm, unit)} before the lens; expose {fixed(drawn.factor!, 2)} times, {fixed(drawn.stops!, 2)} stops more.</p>}
        {drawn.moves_at_infinity !== null && <p>{drawn.moves_at_infinity ? "The front still moves at infinity." : "At infinity the folds hold the front: little or no rise."}</p>}
        {factor && <p>At the draw in mind: expose {fixed(factor.factor, 2)} times, {fixed(factor.stops, 2)} stops more.</p>}
      </div>
      <p class="small soft">Thin lens: draw f·(1 + m), longer exposure (draw over f)². A lens of 12 in at 18 in wants 2.25 times (US Army subcourse SS0512, sure). The focal length is taken as marked, ±5 % (fair).</p>
    </section>
  );
}
