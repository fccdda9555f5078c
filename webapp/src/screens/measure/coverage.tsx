// Coverage: the image circle over the picture in both orientations, with rise and shift each alone and together.
import { bothAlike, coverageDrawing, imageArea, room, shiftLeft } from "../../domain/coverage.ts";
import { type LengthUnit, showLength } from "../../domain/lengths.ts";
import { PickField } from "../../ui/field.tsx";
import type { ScreenInput } from "../../ui/screen_input.ts";
import { NotYet } from "./not_yet.tsx";
import { type Asked, mmIn, reckon } from "./plan.ts";
import { type Desk, ToolFrame } from "./tool_frame.tsx";

const PLAN: readonly Asked[] = [
  { id: "circle", measure: "circle_mm", label: "Image circle", hint: "Its width, as claimed or tabled, at the stop it holds for", reading: { check: "lens.fit.circle", reading: "image_circle" } },
  { id: "rise", measure: "movement_mm", label: "Rise or fall wanted", hint: "From the middle, without a sign", optional: true },
  { id: "shift", measure: "movement_mm", label: "Shift wanted", hint: "To either side, without a sign", optional: true },
];
const STANDS = ["lying", "upright"] as const;

export default function Coverage(input: ScreenInput) {
  return (
    <ToolFrame input={input} name="coverage" title="Coverage" plan={PLAN} about="Whether the lens lights the whole picture, and how far the picture may rise and shift in its circle."
      choices={({ words, set, catalogue }) => <PickField label="Format" value={words["format"] ?? "4x5"} options={catalogue.formats.map(({ id, title }) => ({ value: id, label: title }))} onPick={(format) => set({ format })} />}>
      {(desk) => <Covers {...desk} />}
    </ToolFrame>
  );
}

interface Standing { readonly circle: number; readonly wide: number; readonly high: number; readonly rise: number; readonly shift: number }

function Covers({ words, unit, catalogue }: Desk) {
  const found = reckon(() => {
    const circle = mmIn(words, "circle", unit);
    if (circle === null) return null;
    const area = imageArea(words["format"] ?? "4x5", catalogue);
    room(circle, area.width_mm, area.height_mm);
    return { circle, area, rise: mmIn(words, "rise", unit) ?? 0, shift: mmIn(words, "shift", unit) ?? 0 };
  });
  if (!found || "wrong" in found) return <NotYet wrong={found?.wrong} words="Type the image circle." />;
  const { circle, area, rise, shift } = found.value;
  const { width_mm, height_mm } = area;
  const left = room(circle, width_mm, height_mm);
  return (
    <section class="stack" aria-labelledby="covers">
      <h2 id="covers">Coverage</h2>
      <p class="card lit">{left.covers
        ? `It covers: the circle is ${showLength(left.spare_mm, unit)} wider than the picture's diagonal.`
        : `It does not cover: the circle is ${showLength(-left.spare_mm, unit)} smaller than the picture's diagonal. The corners stay dark, with no room to rise or shift.`}</p>
      <div class="cover-pair">
        {STANDS.map((stands) => {
          const [wide, high] = stands === "lying" ? [height_mm, width_mm] : [width_mm, height_mm];
          return <Stands key={stands} title={stands === "lying" ? "Lying" : "Upright"} {...{ circle, wide, high, rise, shift }} unit={unit} />;
        })}
      </div>
      <p class="small soft">Picture {showLength(width_mm, unit)} × {showLength(height_mm, unit)}: {area.true ? `${area.source} (${area.sureness})` : "the nominal size; the true picture is a little smaller"}. Room is arithmetic on a circle that is a claim until you have looked at the corners, stopped down.</p>
    </section>
  );
}

/** One way the picture may stand: its room in words, and circle and picture to scale. */
function Stands({ title, unit, circle, wide, high, rise, shift }: Standing & { title: string; unit: LengthUnit }) {
  const left = room(circle, wide, high);
  const drawn = coverageDrawing(circle, wide, high, rise, shift);
  const still = coverageDrawing(circle, wide, high);
  const scale = drawn.mm_to_units;
  const both = togetherWords({ circle, wide, high, rise, shift }, unit);
  const id = `cover-${title}`;
  return (
    <section class="stack tight" aria-labelledby={id}>
      <h3 id={id}>{title}</h3>
      <svg class="cover-drawing" viewBox={`0 0 ${drawn.size} ${drawn.size}`} role="img" aria-labelledby={`${id}-title ${id}-desc`}>
        <title id={`${id}-title`}>{title}: circle and picture to scale</title>
        <desc id={`${id}-desc`}>{`Moved by ${showLength(rise, unit)} up and ${showLength(shift, unit)} sideways, the picture ${drawn.outside ? "leaves" : "lies within"} the image circle.`}</desc>
        <circle cx={drawn.circle.x} cy={drawn.circle.y} r={drawn.circle.r} />
        {(rise > 0 || shift > 0) && <rect class="still" x={drawn.size / 2 - (wide / 2) * scale} y={drawn.size / 2 - (high / 2) * scale} width={still.frame.width * (scale / still.mm_to_units)} height={still.frame.height * (scale / still.mm_to_units)} />}
        <rect class={drawn.outside ? "outside" : undefined} {...drawn.frame} />
        <path d={`M${drawn.size / 2 - 6} ${drawn.size / 2}h12m-6 -6v12`} />
      </svg>
      {left.covers && <p>Rise {showLength(left.rise_mm, unit)} or shift {showLength(left.shift_mm, unit)}, each alone; both at once {showLength(bothAlike(circle, wide, high), unit)} each.</p>}
      {both && <p class={drawn.outside ? "wrong" : undefined}>{both}</p>}
    </section>
  );
}

/** What is left of the one movement after the other, or whether both together stay in the circle; null where none is wanted. */
function togetherWords({ circle, wide, high, rise, shift }: Standing, unit: LengthUnit): string | null {
  if (rise === 0 && shift === 0) return null;
  const [across, up] = [shiftLeft(circle, wide, high, rise), shiftLeft(circle, high, wide, shift)];
  const said = [rise > 0 && `${showLength(rise, unit)} of rise`, shift > 0 && `${showLength(shift, unit)} of shift`].filter(Boolean).join(" and ");
  if (across === null || up === null || across < shift) return `${said}: a corner leaves the circle.`;
  if (shift === 0) return `After ${said} there is ${showLength(across, unit)} of shift left.`;
  if (rise === 0) return `After ${said} there is ${showLength(up, unit)} of rise left.`;
  return `${said} together stay in the circle, with ${showLength(across - shift, unit)} of shift to spare.`;
}
