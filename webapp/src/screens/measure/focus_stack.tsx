// The screen as it lies in the back, to one scale: seat of the holder, sheets, matte face, where it focuses and where film lies.
import { stackDrawing, type StackPart } from "../../domain/focus_drawing.ts";
import type { LengthUnit } from "../../domain/lengths.ts";
import { Note } from "../../ui/notes.tsx";
import { plainWords } from "./figure_words.ts";
import type { Between, FocusResult } from "./focus_input.ts";

// What lies behind the matte face does not change where it focuses: drawn as usual glass, in mm (common practice, no source).
const GLASS_MM = 2;
const SHEETS: Readonly<Record<Between, string>> = { nothing: "", fresnel: "ringed sheet", clear_sheet: "clear sheet", reversed: "ground glass" };
const [TOP, BOTTOM, HEIGHT, LEFT] = [44, 128, 206, 30];

export interface FocusStackProps { result: FocusResult; between: Between; unit: LengthUnit }

export function FocusStack({ result: { screen_mm, film_mm, layers }, between, unit }: FocusStackProps) {
  const sheets = layers.reduce((sum, one) => sum + one.thickness_mm, 0);
  const matte = screen_mm.value + layers.reduce((sum, one) => sum + one.shift_mm, 0);
  const front = matte - sheets;
  if (front <= 0) return <Note tone="care"><p>A sheet of {plainWords(sheets, unit)} would stand {plainWords(-front, unit)} out of the seat, so that no holder could slide in. Read both figures once more.</p></Note>;
  const reversed = between === "reversed";
  const parts = stackDrawing([
    { title: "free", thickness_mm: front, glass: false },
    ...layers.map(({ thickness_mm }) => ({ title: SHEETS[between], thickness_mm, glass: reversed })),
    ...(reversed ? [] : [{ title: "ground glass", thickness_mm: GLASS_MM, glass: true }]),
  ], !reversed);
  const units = parts[0]!.width / front;
  const x = (mm: number) => LEFT + mm * units;
  const solid = parts.slice(1);
  const words = `From the seat of the holder: ${solid.map((part) => part.title).join(", then ")}; matte face at ${plainWords(matte, unit)}, focuses at ${plainWords(screen_mm.value, unit)}; film at ${plainWords(film_mm.value, unit)}.`;
  return (
    <svg class="focus-drawing" viewBox={`0 0 360 ${HEIGHT}`} role="img" aria-labelledby="stack-title stack-desc">
      <title id="stack-title">Screen and film in the back, to scale</title>
      <desc id="stack-desc">{words}</desc>
      <line class="axis" x1="0" x2="360" y1={(TOP + BOTTOM) / 2} y2={(TOP + BOTTOM) / 2} />
      {solid.map((part, index) => <Sheet key={part.title} part={part} row={index} />)}
      <line class="plane" x1={LEFT} x2={LEFT} y1={TOP - 8} y2={BOTTOM + 8} />
      <text x={LEFT + 4} y={TOP - 12}>seat</text>
      <line class="plane film" x1={x(film_mm.value)} x2={x(film_mm.value)} y1={TOP} y2={BOTTOM} />
      <path class="arrow" d={`M${x(film_mm.value)} ${BOTTOM + 3}l-5 9h10z`} />
      <text x={x(film_mm.value)} y={BOTTOM + 26} text-anchor="middle">film</text>
      <line class="ray dashed" x1={x(screen_mm.value)} x2={x(screen_mm.value)} y1={TOP - 6} y2={BOTTOM + 6} />
      <path class="arrow" d={`M${x(screen_mm.value)} ${TOP - 8}l-5 -9h10z`} />
      <text x={x(screen_mm.value)} y={TOP - 22} text-anchor="middle">focuses here</text>
      <text x="2" y={BOTTOM + 26}>← lens</text>
      <line class="scale" x1={LEFT} x2={LEFT + units} y1={HEIGHT - 8} y2={HEIGHT - 8} />
      <text x={LEFT + units + 6} y={HEIGHT - 4}>1 mm</text>
    </svg>
  );
}

/** A sheet with its matte face, if it has one, drawn as teeth. */
function Sheet({ part, row }: { part: StackPart; row: number }) {
  const face = part.matte === "left" ? part.x : part.x + part.width;
  const teeth = Array.from({ length: 14 }, (_, index) => `M${face} ${TOP + index * 6}l${part.matte === "left" ? 4 : -4} 3l${part.matte === "left" ? -4 : 4} 3`).join("");
  return (
    <g>
      <rect class={part.matte ? "layer glass" : "layer"} x={part.x} y={TOP} width={part.width} height={BOTTOM - TOP} />
      {part.matte && <path class="matte" d={teeth} />}
      <text x={part.x + part.width / 2} y={BOTTOM + 42 + row * 16} text-anchor="middle">{part.title}</text>
    </g>
  );
}
