// Two boards over each other to one scale: the one a camera takes, the one on a lens, and its hole.
import type { Board } from "../../domain/mounting.ts";

const SIZE = 200;

/** The lens's board is turned so that its long side lies along the camera's. */
export function AdapterDrawing({ lens, camera, holeMm }: { lens: Board; camera: Board; holeMm: number | null }) {
  const lying = camera.width_mm > camera.height_mm;
  const [long, short] = [Math.max(lens.width_mm, lens.height_mm), Math.min(lens.width_mm, lens.height_mm)];
  const turned = lying ? { width_mm: long, height_mm: short } : { width_mm: short, height_mm: long };
  const scale = (SIZE - 12) / Math.max(camera.width_mm, camera.height_mm, long);
  const box = ({ width_mm, height_mm }: Board) => ({ x: (SIZE - width_mm * scale) / 2, y: (SIZE - height_mm * scale) / 2, width: width_mm * scale, height: height_mm * scale });
  const outside = turned.width_mm > camera.width_mm || turned.height_mm > camera.height_mm;
  return (
    <svg class="cover-drawing" viewBox={`0 0 ${SIZE} ${SIZE}`} role="img" aria-labelledby="boards-title boards-desc">
      <title id="boards-title">Both boards to one scale</title>
      <desc id="boards-desc">{outside ? "The lens's board, dashed, stands over the edge of the board the camera takes." : "The lens's board lies within the board the camera takes."}</desc>
      <rect class="board" {...box(camera)} />
      <rect class={outside ? "outside" : undefined} {...box(turned)} />
      {holeMm !== null && <circle cx={SIZE / 2} cy={SIZE / 2} r={(holeMm / 2) * scale} />}
    </svg>
  );
}
