// Screen, film and the cone of light between them, to scale, with the blur where the cone meets the film.
import { focusDrawing } from "../../domain/focus_drawing.ts";
import type { FocusResult } from "./focus_input.ts";

export function FocusPicture({ result: { screen_mm, film_mm, found }, n, mark }: { result: FocusResult; n: number; mark: string }) {
  const drawn = focusDrawing(screen_mm, film_mm, n);
  const { screen, film, blur, scale } = drawn;
  const [top, bottom] = [26, drawn.height - 42];
  const apart = Math.abs(screen.x - film.x) > 70;
  const order = screen.x <= film.x ? 1 : -1;
  const words = `To scale: at f/${mark} light comes to a point on the screen's plane, ${Math.abs(found.error_mm.value).toFixed(2)} mm ${found.error_mm.value < 0 ? "before" : "behind"} the film.`;
  return (
    <svg class="focus-drawing" viewBox={`0 0 ${drawn.width} ${drawn.height}`} role="img" aria-labelledby="cone-title cone-desc">
      <title id="cone-title">Screen, film and the cone of light, to scale</title>
      <desc id="cone-desc">{words}</desc>
      <rect class="span screen" x={Math.min(screen.x_low, screen.x_high)} y={top} width={Math.max(0.5, screen.x_high - screen.x_low)} height={bottom - top} />
      <rect class="span film" x={film.x_low} y={top} width={Math.max(0.5, film.x_high - film.x_low)} height={bottom - top} />
      <line class="axis" x1="0" x2={drawn.width} y1={drawn.axis} y2={drawn.axis} />
      {drawn.rays.map((ray) => <line key={ray.y1} class="ray" {...ray} />)}
      <line class="plane screen" x1={screen.x} x2={screen.x} y1={top} y2={bottom} />
      <line class="plane film" x1={film.x} x2={film.x} y1={top} y2={bottom} />
      <line class="blur" x1={blur.x} x2={blur.x} y1={blur.y1} y2={blur.y2} />
      <text x={screen.x - (apart ? 0 : 6 * order)} y="18" text-anchor={apart ? "middle" : order > 0 ? "end" : "start"}>screen</text>
      <text x={film.x + (apart ? 0 : 6 * order)} y="18" text-anchor={apart ? "middle" : order > 0 ? "start" : "end"}>film</text>
      <line class="scale" x1={scale.x1} x2={scale.x2} y1={scale.y} y2={scale.y} />
      <text x={scale.x1} y={scale.y - 6}>{scale.mm} mm</text>
      <text x="6" y={top + 14}>← lens</text>
      <text x={drawn.width - 8} y={scale.y} text-anchor="end">at f/{mark}</text>
    </svg>
  );
}
