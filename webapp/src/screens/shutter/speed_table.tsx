// The marked speeds of a shutter with what they really are: error in stops, drawn between the bands and said in words.
import type { Check } from "../../domain/catalogue.ts";
import type { Row } from "../../domain/shutter_table.ts";
import { Mark } from "../../ui/mark.tsx";
import type { ResultAt } from "../visit/judge.ts";
import { OfferAnswer } from "./offer_answer.tsx";
import { BANDS, stopsWords, timeWords } from "./words.ts";

/** Stops shown on either side of the exact speed. */
const REACH = 2;
const across = (stops: number) => 50 + (50 * Math.max(-REACH, Math.min(REACH, stops))) / REACH;

export interface SpeedTableProps { rows: readonly Row[]; visit: string; check: Check | undefined; resultAt: ResultAt }

export function SpeedTable({ rows, visit, check, resultAt }: SpeedTableProps) {
  return (
    <section class="stack" aria-label="Speeds measured">
      <h2>Speeds measured</h2>
      <p class="soft small">Left is fast, right is slow; the inner band is a third of a stop, the outer one a stop (common practice, no source).</p>
      <ul class="lines speed-table">
        {rows.map((row) => (
          <li key={row.marked.text} class="speed-row">
            <SpeedRow row={row} />
            {check && <OfferAnswer row={row} visit={visit} check={check} resultAt={resultAt} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

function SpeedRow({ row }: { row: Row }) {
  const { word, tone } = BANDS[row.band];
  const said = row.settled ?? row.cold;
  return (
    <>
      <div class="row">
        <strong class="figures">{row.marked.text}</strong>
        <Mark tone={tone} word={word} />
      </div>
      {row.error_stops !== null && row.error_low !== null && row.error_high !== null && (
        <svg class="ruler" viewBox="0 0 100 12" preserveAspectRatio="none" role="img" aria-label={`${stopsWords(row.error_stops)}, between ${stopsWords(row.error_low)} and ${stopsWords(row.error_high)}`}>
          <rect class="one" x={across(-1)} width={across(1) - across(-1)} y="1" height="10" />
          <rect class="third" x={across(-1 / 3)} width={across(1 / 3) - across(-1 / 3)} y="1" height="10" />
          <line class="exact" x1="50" x2="50" y1="0" y2="12" />
          <rect class="span" x={across(row.error_low)} width={Math.max(0.8, across(row.error_high) - across(row.error_low))} y="4.5" height="3" />
          <rect class="value" x={across(row.error_stops) - 0.8} width="1.6" y="2" height="8" />
        </svg>
      )}
      <p class="small">
        {said === null ? "No take could be read yet." : row.settled
          ? `${timeWords(row.settled.median_s)} (${timeWords(row.settled.low_s)} to ${timeWords(row.settled.high_s)}), ${row.settled.n} settled${row.error_stops === null ? "" : `: ${stopsWords(row.error_stops)}`}`
          : `cold only: ${timeWords(row.cold!.s)}${row.error_stops === null ? "" : `: ${stopsWords(row.error_stops)}`}`}
        {row.settled?.scatter_stops != null && `; scatter ${row.settled.scatter_stops.toFixed(2)} stop`}
        {row.cold && row.settled && `; cold ${timeWords(row.cold.s)}`}
        {row.drift_stops !== null && (Math.abs(row.drift_stops) < 0.05 ? ", no drift" : `, ${stopsWords(row.drift_stops).replace("slow", "slower cold").replace("fast", "faster cold")}`)}
        {row.not_read > 0 && `; ${row.not_read} not counted`}
      </p>
    </>
  );
}
