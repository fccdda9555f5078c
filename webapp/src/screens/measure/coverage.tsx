// Coverage and mounting: the image circle over the picture with rise and shift, and which hole and board a lens wants.
import { coverageDrawing, imageArea, room, shiftLeft } from "../../domain/coverage.ts";
import { showLength } from "../../domain/lengths.ts";
import { holeSize, thicknessTakes } from "../../domain/mounting.ts";
import { readFigure } from "../../domain/uncertainty.ts";
import { PickField } from "../../ui/field.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { type Asked, mmIn, reckon } from "./plan.ts";
import { NotYet } from "./not_yet.tsx";
import { type Desk, ToolFrame } from "./tool_frame.tsx";

const PLAN: readonly Asked[] = [
  { id: "circle", measure: "circle_mm", label: "Image circle", hint: "As claimed or tabled, at the stop it holds for", reading: { check: "lens.fit.circle", reading: "image_circle" } },
  { id: "rise", label: "Rise or fall wanted (mm)", hint: "From 0", optional: true },
  { id: "shift", label: "Shift wanted (mm)", hint: "From 0", optional: true },
  { id: "hole", measure: "hole_mm", label: "Hole in the board", reading: { check: "lens.fit.mount", reading: "hole" }, optional: true },
  { id: "thickness", measure: "board_thickness_mm", label: "Thickness of the board", reading: { check: "lens.fit.mount", reading: "board_thickness" }, optional: true },
];

export default function Coverage(input: ScreenInput) {
  return (
    <ToolFrame input={input} name="coverage" title="Coverage and mounting" withTool plan={PLAN} about="Whether the lens lights the whole picture, how far it may rise and shift, and what its hole says of the shutter."
      choices={({ words, set, catalogue }) => (
        <>
          <PickField label="Format" value={words["format"] ?? "4x5"} options={catalogue.formats.map(({ id, title }) => ({ value: id, label: title }))} onPick={(format) => set({ format })} />
          <PickField label="The picture stands" value={words["stands"] ?? "lying"} options={[{ value: "lying", label: "Lying" }, { value: "upright", label: "Upright" }]} onPick={(stands) => set({ stands })} />
        </>
      )}>
      {(desk) => <><Covers {...desk} /><Mount {...desk} /></>}
    </ToolFrame>
  );
}

function Covers({ words, unit, catalogue }: Desk) {
  const found = reckon(() => {
    const circle = mmIn(words, "circle", unit);
    if (circle === null) return null;
    const area = imageArea(words["format"] ?? "4x5", catalogue);
    const [wide, high] = (words["stands"] ?? "lying") === "lying" ? [area.height_mm, area.width_mm] : [area.width_mm, area.height_mm];
    const [rise, shift] = [mmIn(words, "rise", "mm") ?? 0, mmIn(words, "shift", "mm") ?? 0];
    return { area, left: room(circle, wide, high), shift: shiftLeft(circle, wide, high, rise), rise, drawn: coverageDrawing(circle, wide, high, rise, shift) };
  });
  if (!found || "wrong" in found) return <NotYet wrong={found?.wrong} words="Type the image circle." />;
  const { area, left, shift, rise, drawn } = found.value;
  return (
    <section class="stack" aria-labelledby="covers">
      <h2 id="covers">Coverage</h2>
      <div class="card lit stack tight">
        <p>{left.covers ? `It covers: ${showLength(left.rise_mm, unit)} of rise or ${showLength(left.shift_mm, unit)} of shift, each alone.` : `It does not cover: the circle is ${showLength(-left.spare_mm, unit)} smaller than the picture's diagonal.`}</p>
        {rise > 0 && <p>{shift === null ? "So much rise leaves the circle." : `With ${showLength(rise, unit)} of rise there is ${showLength(shift, unit)} of shift left.`}</p>}
      </div>
      <svg class="cover-drawing" viewBox={`0 0 ${drawn.size} ${drawn.size}`} role="img" aria-label={`To scale: the picture ${drawn.outside ? "leaves" : "lies within"} the image circle.`}>
        <circle cx={drawn.circle.x} cy={drawn.circle.y} r={drawn.circle.r} />
        <rect class={drawn.outside ? "outside" : undefined} {...drawn.frame} />
        <path d={`M${drawn.size / 2 - 6} ${drawn.size / 2}h12m-6 -6v12`} />
      </svg>
      <p class="small soft">Picture {showLength(area.width_mm, unit)} × {showLength(area.height_mm, unit)}: {area.true ? `${area.source} (${area.sureness})` : "the nominal size; the true picture is a little smaller"}. The circle is a claim until you have looked at the corners.</p>
    </section>
  );
}

function Mount({ words, unit, catalogue, tool }: Desk) {
  const found = reckon(() => {
    const hole = mmIn(words, "hole", unit);
    if (hole === null) return null;
    const size = holeSize(readFigure(hole, tool), catalogue);
    const thickness = mmIn(words, "thickness", unit);
    return { size, thickness: size.size && thickness !== null ? thicknessTakes(thickness, size.size, catalogue) : null };
  });
  if (!found) return null;
  if ("wrong" in found) return <NotYet wrong={found.wrong} words="" />;
  const { size, thickness } = found.value;
  return (
    <section class="stack tight" aria-labelledby="mount">
      <h2 id="mount">Mounting</h2>
      <p>{size.size ? `The hole is that of shutter size ${size.size} (${showLength(size.hole_mm, unit)}).` : `No usual shutter size: the nearest is ${size.nearest}, ${showLength(size.hole_mm, unit)}.`}</p>
      {thickness && <p>{thickness.fit === "fits" ? "The board suits its thread." : thickness.fit === "too_thin" ? "The board is thinner than its ring can hold." : "The board is thicker than its thread reaches."} ({showLength(thickness.low_mm, unit)} to {showLength(thickness.high_mm, unit)}; {thickness.source}, {thickness.sureness}.)</p>}
      <p class="small soft">{size.source} ({size.sureness}).</p>
    </section>
  );
}
