// The plot of waiting: the share that had turned up week by week, its interval, and a stroke for each want not found so far.
import { useId } from "preact/hooks";
import type { WaitChart } from "../../domain/wait_chart.ts";
import "../prices/prices.css";

const points = (spots: WaitChart["line"]): string => spots.map((spot) => spot.join(",")).join(" ");

export function WaitPlot({ chart, title, words }: { chart: WaitChart; title: string; words: string }) {
  const id = useId();
  const { left, right, top, bottom, half } = chart;
  return (
    <figure class="stack tight">
      <svg class="plot" viewBox={`0 0 ${chart.width} ${chart.height}`} role="img" aria-labelledby={`${id}-title ${id}-words`}>
        <title id={`${id}-title`}>{title}</title>
        <desc id={`${id}-words`}>{words}</desc>
        {chart.band.length > 0 && <polygon class="band" points={points(chart.band)} />}
        {chart.shares.map(({ y, label }) => (
          <g key={label}>
            <line class="tick" x1={left} x2={right} y1={y} y2={y} />
            <text x={left - 6} y={y + 4} text-anchor="end">{label}</text>
          </g>
        ))}
        {chart.weeks.map(({ x, label }) => (
          <g key={label}>
            <line class="tick" x1={x} x2={x} y1={bottom} y2={bottom + 5} />
            <text x={x} y={bottom + 18} text-anchor={x > right - 10 ? "end" : "middle"}>{label}</text>
          </g>
        ))}
        <text x={right} y={chart.height - 4} text-anchor="end">weeks</text>
        <polyline class="curve" points={points(chart.line)} />
        {chart.open.map(({ x, y }, at) => <line key={at} class="open" x1={x} x2={x} y1={y - 6} y2={y + 6} />)}
        {half && <path class="middle" fill="none" d={`M${left} ${half.y}H${half.x}V${bottom}`} />}
        <line class="axis" x1={left} x2={left} y1={top} y2={bottom} />
      </svg>
      <figcaption class="legend small">
        <span><svg class="plot" viewBox="0 0 16 16" aria-hidden="true"><rect class="band" y="2" width="16" height="12" /><path class="curve" d="M0 12h8v-8h8" /></svg>turned up, with 95 % interval</span>
        {chart.open.length > 0 && <span><svg class="plot" viewBox="0 0 16 16" aria-hidden="true"><path class="curve" d="M0 8h16" /><path class="open" d="M8 2v12" /></svg>not found so far</span>}
        {half && <span><svg class="plot" viewBox="0 0 16 16" aria-hidden="true"><path class="middle" d="M0 8h16" /></svg>half</span>}
      </figcaption>
    </figure>
  );
}
