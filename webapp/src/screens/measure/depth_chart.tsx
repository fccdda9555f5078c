// The chart of a set: each side's mean with its interval, over the published band of the format.
import type { HolderChart } from "../../domain/holder_chart.ts";

const SHAPES: Readonly<Record<string, (x: number, y: number) => preact.JSX.Element>> = {
  within: (x, y) => <circle class="dot" cx={x} cy={y} r="5" />,
  no_standard: (x, y) => <circle class="dot" cx={x} cy={y} r="5" />,
  cannot_tell: (x, y) => <circle class="hollow" cx={x} cy={y} r="5" />,
  too_deep: (x, y) => <path class="off" d={`M${x + 7} ${y}l-11 -6v12z`} />,
  too_shallow: (x, y) => <path class="off" d={`M${x - 7} ${y}l11 -6v12z`} />,
};

export function DepthChart({ chart, words }: { chart: HolderChart; words: string }) {
  const { band } = chart;
  return (
    <svg class="depth-chart" viewBox={`0 0 ${chart.width} ${chart.height}`} role="img" aria-label={words}>
      {band && <rect class="band" x={band.x} y={chart.top} width={band.width} height={chart.bottom - chart.top} />}
      {chart.middle !== null && <line class="middle" x1={chart.middle} x2={chart.middle} y1={chart.top} y2={chart.bottom} />}
      {chart.ticks.map(({ x, label }) => (
        <g key={label}>
          <line class="tick" x1={x} x2={x} y1={chart.bottom} y2={chart.bottom + 5} />
          <text x={x} y={chart.bottom + 19} text-anchor="middle">{label}</text>
        </g>
      ))}
      {chart.rows.map((row) => (
        <g key={row.label}>
          <text x="46" y={row.y + 5} text-anchor="end">{row.label}</text>
          <line class="bar" x1={row.x_low} x2={row.x_high} y1={row.y} y2={row.y} />
          {SHAPES[row.stands]!(row.x, row.y)}
        </g>
      ))}
    </svg>
  );
}
