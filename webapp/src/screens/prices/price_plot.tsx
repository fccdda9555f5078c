// The plot of a group's prices over time: a sign a note, the middle with its interval, the trend; signs differ by shape.
import { useId } from "preact/hooks";
import type { PriceChart, PriceShape } from "../../domain/price_chart.ts";
import "./prices.css";

const SHAPES: Readonly<Record<PriceShape, (x: number, y: number) => preact.JSX.Element>> = {
  working: (x, y) => <circle class="dot" cx={x} cy={y} r="5" />,
  faulty: (x, y) => <path class="stroke" d={`M${x - 5} ${y - 5}l10 10M${x + 5} ${y - 5}l-10 10`} />,
  unknown: (x, y) => <circle class="hollow" cx={x} cy={y} r="5" />,
  asked: (x, y) => <path class="hollow thin" d={`M${x} ${y - 6}l6 11h-12z`} />,
};

const WORDS: Readonly<Record<PriceShape, string>> = { working: "sold, working", faulty: "sold, faulty", unknown: "sold, state not known", asked: "only asked, counts for nothing" };

/** `sure`: the trend's interval leaves out that prices stand still. */
export function PricePlot({ chart, currency, sure, title, words }: { chart: PriceChart; currency: string; sure: boolean; title: string; words: string }) {
  const id = useId();
  const { left, right, top, bottom, band, middle, line } = chart;
  const trend = sure ? "trend" : "trend unsure";
  const shapes = (Object.keys(SHAPES) as PriceShape[]).filter((shape) => chart.points.some((point) => point.shape === shape));
  return (
    <figure class="stack tight">
      <svg class="plot" viewBox={`0 0 ${chart.width} ${chart.height}`} role="img" aria-labelledby={`${id}-title ${id}-words`}>
        <title id={`${id}-title`}>{title}</title>
        <desc id={`${id}-words`}>{words}</desc>
        {band && <rect class="band" x={left} y={band.y} width={right - left} height={Math.max(band.height, 1)} />}
        {chart.amounts.map(({ y, label }) => (
          <g key={label}>
            <line class="tick" x1={left} x2={right} y1={y} y2={y} />
            <text x={left - 6} y={y + 4} text-anchor="end">{label}</text>
          </g>
        ))}
        <text x={left - 6} y={top - 10} text-anchor="end">{currency}</text>
        {chart.days.map(({ x, label }) => (
          <g key={label}>
            <line class="tick" x1={x} x2={x} y1={bottom} y2={bottom + 5} />
            <text x={x} y={bottom + 20} text-anchor={x > right - 30 ? "end" : x < left + 30 ? "start" : "middle"}>{label}</text>
          </g>
        ))}
        {middle !== null && <line class="middle" x1={left} x2={right} y1={middle} y2={middle} />}
        {line && <polyline class={trend} points={line.map((spot) => spot.join(",")).join(" ")} />}
        {chart.points.map(({ x, y, shape }, at) => <g key={at}>{SHAPES[shape](x, y)}</g>)}
        <line class="axis" x1={left} x2={left} y1={top} y2={bottom} />
      </svg>
      <figcaption class="legend small">
        {shapes.map((shape) => <span key={shape}><svg class="plot" viewBox="0 0 16 16" aria-hidden="true">{SHAPES[shape](8, 8)}</svg>{WORDS[shape]}</span>)}
        {middle !== null && <span><svg class="plot" viewBox="0 0 16 16" aria-hidden="true"><rect class="band" y="2" width="16" height="12" /><line class="middle" x2="16" y1="8" y2="8" /></svg>middle, with its interval</span>}
        {line && <span><svg class="plot" viewBox="0 0 16 16" aria-hidden="true"><path class={trend} d="M0 13 16 3" /></svg>{sure ? "trend" : "trend, cannot tell"}</span>}
      </figcaption>
    </figure>
  );
}
