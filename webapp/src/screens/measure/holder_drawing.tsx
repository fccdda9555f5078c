// A holder from the front with its five points in the order they are read out; the one wanted now is filled.
const AT: Readonly<Record<string, readonly [number, number]>> = {
  middle: [80, 92], top_left: [40, 42], top_right: [120, 42], bottom_left: [40, 142], bottom_right: [120, 142],
};

export interface HolderDrawingProps { order: readonly string[]; current: string | null; done: ReadonlySet<string>; words: string }

export function HolderDrawing({ order, current, done, words }: HolderDrawingProps) {
  return (
    <svg class="holder-drawing" viewBox="0 0 160 206" role="img" aria-label={words}>
      <path class="slide" d="M30 6h100v14H30z" />
      <path class="frame" d="M14 20h132v180H14z" />
      <path class="divider" d="M24 28h112v128H24z" />
      <path class="rib" d="M20 166h120" />
      <text class="note" x="80" y="188" text-anchor="middle">loading end</text>
      {order.map((point, index) => {
        const [x, y] = AT[point]!;
        const look = point === current ? "now" : done.has(point) ? "done" : "open";
        return (
          <g key={point} class={`point ${look}`}>
            {look === "done" ? <rect x={x - 13} y={y - 13} width="26" height="26" /> : <circle cx={x} cy={y} r="14" />}
            <text x={x} y={y + 6} text-anchor="middle">{index + 1}</text>
          </g>
        );
      })}
    </svg>
  );
}
