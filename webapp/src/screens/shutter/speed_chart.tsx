// The chart of errors over the marked speeds, by the same geometry as in the report.
import { chartSvg, chartTitle, shutterChart } from "../../domain/chart.ts";
import type { Row } from "../../domain/shutter_table.ts";

export function SpeedChart({ rows }: { rows: readonly Row[] }) {
  // The domain writes the drawing as text, every word in it escaped.
  return <div class="speed-chart" dangerouslySetInnerHTML={{ __html: chartSvg(shutterChart(rows), chartTitle(rows)) }} />;
}
