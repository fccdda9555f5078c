// The marked speeds of a shutter with what they really are: what it adds up to, the chart, then each speed in words.
import type { Check } from "../../domain/catalogue.ts";
import type { Judgement } from "../../domain/shutter_judgement.ts";
import type { Row } from "../../domain/shutter_table.ts";
import { Mark } from "../../ui/mark.tsx";
import type { ResultAt } from "../visit/judge.ts";
import { OfferAnswer } from "./offer_answer.tsx";
import { SpeedChart } from "./speed_chart.tsx";
import { BANDS, driftWords, errorWords, holdsWords, spanWords } from "./words.ts";

export interface SpeedTableProps {
  rows: readonly Row[];
  judged: Judgement;
  /** Stops the lens was set to, by mark. */
  stopsAt: (mark: string) => readonly string[];
  visit: string;
  check: Check | undefined;
  resultAt: ResultAt;
}

export function SpeedTable({ rows, judged, stopsAt, visit, check, resultAt }: SpeedTableProps) {
  return (
    <section class="stack" aria-label="Speeds measured">
      <h2>Speeds measured</h2>
      <ul class="stack tight adds-up">{judged.lines.map((line) => <li key={line}>{line}</li>)}</ul>
      <SpeedChart rows={rows} />
      <p class="soft small">Inner band: a third of a stop, fine for film; outer: a stop, usable (common practice, no source). Dot: settled. Diamond: cold. Ring: indication only or not judged. Arrow: beyond the edge.</p>
      <ul class="lines speed-table">
        {rows.map((row) => (
          <li key={row.marked.text} class="speed-row">
            <SpeedRow row={row} stops={stopsAt(row.marked.text)} />
            {check && <OfferAnswer row={row} goodUpTo={judged.good_up_to} visit={visit} check={check} resultAt={resultAt} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

function SpeedRow({ row, stops }: { row: Row; stops: readonly string[] }) {
  const { word, tone } = BANDS[row.band];
  const { settled, cold } = row;
  const notCounted = row.not_read > 0 ? `${row.not_read} ${row.not_read === 1 ? "take" : "takes"} not counted.` : "";
  const notes = [settled || cold ? holdsWords(row.nominal_s, stops) : "", notCounted].filter(Boolean).join(" ");
  return (
    <>
      <div class="row">
        <strong class="figures">{row.marked.text}</strong>
        <Mark tone={tone} word={word} />
      </div>
      {!settled && !cold && <p class="small">No take could be read yet.</p>}
      {settled && (
        <p class="small">
          {spanWords(settled.median_s, settled.low_s, settled.high_s)}, {settled.n} settled{settled.scatter_stops !== null && `; scatter ${settled.scatter_stops.toFixed(2)} stop`}
        </p>
      )}
      {cold && <p class="small">Cold first firing: {spanWords(cold.s, cold.low_s, cold.high_s)}{row.drift_stops !== null && `; ${driftWords(row.drift_stops)}`}</p>}
      {row.error_stops !== null && <p class="small">{errorWords(row)}</p>}
      {notes !== "" && <p class="soft small">{notes}</p>}
    </>
  );
}
