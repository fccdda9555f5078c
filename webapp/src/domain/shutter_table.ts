// The table of a shutter's speeds: takes with their readings in, one row a marked speed out.
//
// The cold firing stands alone; the settled ones give median and scatter; drift is cold against settled at that speed.

import { band, type Band, type Bands, errorStops, isJudged, nominalSeconds, parseMark, type Series } from "./exposure.ts";

export interface Mark {
  readonly text: string;
  readonly seconds: number | null;
}

export interface Reading {
  readonly verdict: string;
  readonly open_time_s: number | null;
  readonly low_s: number | null;
  readonly high_s: number | null;
  readonly moved?: boolean;
}

/** A take and what it read. */
export interface TakeRead {
  readonly marked: Mark;
  readonly cold: boolean;
  readonly ordinal?: number;
  readonly reading: Reading;
}

export interface Settled {
  readonly median_s: number;
  readonly low_s: number;
  readonly high_s: number;
  readonly n: number;
  /** Slowest over fastest; null for a single firing. */
  readonly scatter_stops: number | null;
}

/** One marked speed. Errors are in stops, limits are 95 %. */
export interface Row {
  readonly marked: Mark;
  readonly nominal_s: number;
  readonly cold: { readonly s: number; readonly low_s: number; readonly high_s: number } | null;
  readonly settled: Settled | null;
  readonly drift_stops: number | null;
  readonly error_stops: number | null;
  readonly error_low: number | null;
  readonly error_high: number | null;
  readonly band: Band;
  /** Id of the regime of the shutter's kind. */
  readonly regime: string | null;
  /** Takes that do not count. */
  readonly not_read: number;
}

interface Regime {
  readonly id: string;
  readonly from_s: number;
  readonly to_s: number;
}

interface TableCatalogue {
  readonly series: readonly Series[];
  readonly shutter_kinds: readonly { readonly id: string; readonly regimes: readonly Regime[] }[];
  readonly shutter_timing: { readonly bands: Bands };
}

interface ShutterPiece {
  readonly speeds?: { readonly series: string } | null;
  readonly shutter_kind?: string | null;
}

interface Read {
  readonly cold: boolean;
  readonly sure: boolean;
  readonly s: number;
  readonly low_s: number;
  readonly high_s: number;
}

/**
 * Rows from the slowest to the fastest marked speed.
 *
 * A reading counts if it is clear or a person set its marks; where no take of a speed has one, doubtful readings are
 * shown but not judged.
 */
export function table(takes: readonly TakeRead[], piece: ShutterPiece, catalogue: TableCatalogue): Row[] {
  const series = catalogue.series.find(({ id }) => id === piece.speeds?.series) ?? null;
  const regimes = catalogue.shutter_kinds.find(({ id }) => id === piece.shutter_kind)?.regimes ?? [];
  const byMark = new Map<string, TakeRead[]>();
  for (const take of takes) {
    if (take.marked.seconds !== null) byMark.set(take.marked.text, [...(byMark.get(take.marked.text) ?? []), take]);
  }
  return [...byMark.values()]
    .map((ofMark) => row(ofMark, series, regimes, catalogue.shutter_timing.bands))
    .sort((a, b) => b.marked.seconds! - a.marked.seconds!);
}

function row(takes: readonly TakeRead[], series: Series | null, regimes: readonly Regime[], bands: Bands): Row {
  const { marked } = takes[0]!;
  // What the mark says decides, whatever a list of speeds stored as its seconds: 1/125 may stand there as 1/128.
  const seconds = parseMark(marked.text) ?? marked.seconds!;
  const nominal = nominalSeconds(marked.text, series) ?? seconds;
  const usable = takes.flatMap(usableRead);
  const certain = usable.filter(({ sure }) => sure);
  const counted = certain.length > 0 ? certain : usable;
  const firstCold = counted.find((read) => read.cold);
  const cold = firstCold ? { s: firstCold.s, low_s: firstCold.low_s, high_s: firstCold.high_s } : null;
  const warm = counted.filter((read) => !read.cold);
  const settled = warm.length > 0 ? settledOf(warm) : null;
  // A shutter met once and never warmed up is judged by that one firing.
  const judged = settled ? { ...settled, s: settled.median_s } : cold;
  const stops = judged && errorStops(judged.s, nominal);
  return {
    marked,
    nominal_s: nominal,
    cold,
    settled,
    drift_stops: cold && settled ? errorStops(cold.s, settled.median_s) : null,
    error_stops: stops,
    error_low: judged && errorStops(judged.low_s, nominal),
    error_high: judged && errorStops(judged.high_s, nominal),
    band: stops === null || certain.length === 0 ? "not_judged" : isErratic(warm, seconds, bands) ? "erratic" : band(stops, seconds, bands),
    regime: regimes.find((one) => one.from_s >= seconds && seconds > one.to_s)?.id ?? null,
    not_read: takes.length - counted.length,
  };
}

function usableRead({ cold, reading }: TakeRead): Read[] {
  if (reading.open_time_s === null) return [];
  const sure = reading.verdict === "clear" || reading.moved === true;
  return [{ cold, sure, s: reading.open_time_s, low_s: reading.low_s!, high_s: reading.high_s! }];
}

/** Median of the settled firings; its limits reach over all of them, for so few firings bound the median no closer. */
function settledOf(reads: readonly Read[]): Settled {
  const ordered = byTime(reads);
  const [fastest, slowest] = [ordered[0]!, ordered.at(-1)!];
  const middle = ordered.slice((ordered.length - 1) >> 1, (ordered.length >> 1) + 1);
  const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    median_s: mean(middle.map(({ s }) => s)),
    low_s: Math.min(fastest.s, mean(middle.map(({ low_s }) => low_s))),
    high_s: Math.max(slowest.s, mean(middle.map(({ high_s }) => high_s))),
    n: ordered.length,
    scatter_stops: ordered.length > 1 ? errorStops(slowest.s, fastest.s) : null,
  };
}

/** Scatter beyond the limit, and more than the limits of the two firings can explain. */
function isErratic(reads: readonly Read[], markedS: number, bands: Bands): boolean {
  if (reads.length < 2 || !isJudged(markedS, bands)) return false;
  const ordered = byTime(reads);
  const [fastest, slowest] = [ordered[0]!, ordered.at(-1)!];
  return errorStops(slowest.s, fastest.s) > bands.erratic_stops && slowest.low_s > fastest.high_s;
}

function byTime(reads: readonly Read[]): Read[] {
  return [...reads].sort((a, b) => a.s - b.s);
}
