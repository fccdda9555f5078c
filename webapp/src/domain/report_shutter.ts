// The shutter in a report: what it adds up to, cold first and settled, every speed, what was not judged, how it was heard.

import type { Catalogue } from "./catalogue.ts";
import { chartSvg, chartTitle, shutterChart } from "./chart.ts";
import type { Band } from "./exposure.ts";
import type { OwnRecords, ReportPiece, ReportTake } from "./report_records.ts";
import { counted, distinct, listed, momentDay, some, stopsWords, timeWords } from "./report_words.ts";
import { fixed } from "./rounding.ts";
import { judgement } from "./shutter_judgement.ts";
import { type Row, table } from "./shutter_table.ts";
import { type ReadTake, readTakes, type Take } from "./shutter_takes.ts";
import type { Measurement } from "./shutter_timing.ts";
import { type Wave, waveSvg } from "./waveform.ts";

type Shared = Pick<Catalogue, "series" | "shutter_kinds" | "shutter_timing">;
type Records = Pick<OwnRecords, "take" | "mark" | "recording">;
/** By take id. */
export type Waves = Readonly<Record<string, Wave>>;
export type Measured = Readonly<Record<string, Measurement>>;

const BAND_WORDS: Readonly<Record<Band, string>> = {
  fine: "fine for film",
  usable: "usable; write the true speed on the board",
  needs_service: "needs service",
  erratic: "needs service: firings differ",
  indication_only: "indication only",
  not_judged: "not judged",
};

/** From here on the travel of the blades no longer matters: below 0.05 stop by the blade model of the method. */
export const STOP_MATTERS_BELOW_S = 0.03;
const HOLDS = "Times shorter than 1/30 s hold about one stop down: wide open film gets less, stopped down more.";

/** The takes of one visit; `measured` and `waves` (of the stretch around `waveMarks`) by take id. Null without a take. */
export function shutterSection(piece: ReportPiece, records: Records, measured: Measured, waves: Waves, catalogue: Shared) {
  const takes = takesOf(records);
  if (takes.length === 0) return null;
  const read = readOf(takes, records, measured, catalogue);
  const rows = table(read, piece, catalogue);
  const regimes = new Map(kindOf(piece, catalogue)?.regimes.map(({ id, title }) => [id, title]));
  const movedCount = read.filter(({ reading }) => reading.moved).length;
  const heard = records.recording.filter(({ id }) => takes.some(({ recording }) => recording === id));
  const { bands, interval_meaning: interval, algorithm } = catalogue.shutter_timing;
  return {
    rows: rows.map((row) => ({ ...rowOf(row, regimes), at_stop: stopWords(row, takes) })),
    chart: rows.length > 0 ? chartSvg(shutterChart(rows), chartTitle(rows)) : "",
    waves: wavesOf(takes, read, waves),
    untried: listed((piece.speeds?.marks ?? []).map(({ text }) => text).filter((text) => !rows.some(({ marked }) => marked.text === text))),
    cold: coldWords(rows, read),
    lines: linesOf(rows, piece, catalogue),
    unread: unreadWords(takes, read, catalogue),
    moved: movedCount > 0 ? `${counted(movedCount, "take has", "takes have")} marks that a person set; the figure is theirs, not the machine's.` : "",
    conditions: conditionsOf(takes),
    processed: heard.some(({ capture }) => capture?.processed === true),
    made_by_code: heard.some(({ origin }) => origin === "made_by_code"),
    interval,
    holds: rows.some(isByStop) ? HOLDS : "",
    algorithm,
    fine: "1/3",
    usable: fixed(bands.usable_stops, 0),
    judged_to: `1/${fixed(1 / bands.judged_from_s, 0)}`,
  };
}

/** Where the firing of each take opens and closes in its recording, in seconds; null where nothing could be read. */
export function waveMarks(records: Partial<Records>, measured: Measured, catalogue: Pick<Catalogue, "shutter_timing">): Record<string, readonly [number | null, number | null]> {
  const read = readOf(takesOf(records), records, measured, catalogue);
  return Object.fromEntries(read.map(({ id, reading }) => [id, [reading.open_s, reading.close_s] as const]));
}

/** Three lines and the cocking rule for the shutter's kind; null where the kind is not known. */
export function howToWork(piece: ReportPiece, catalogue: Shared) {
  const kind = kindOf(piece, catalogue);
  return kind ? { kind_title: kind.title, steps: [...kind.how_to_work], rule: kind.cocking_rule, expect: kind.expect } : null;
}

/** What a take was meant to be: "1/50, settled 2". */
export function takeWords({ intent }: Pick<ReportTake, "intent">): string {
  const marked = intent?.marked.text ?? "";
  return intent?.cold ? `${marked}, first firing of the day` : `${marked}, settled ${intent?.ordinal ?? 1}`;
}

function takesOf({ take = [] }: Partial<Records>) {
  return take.filter((one) => one.intent && one.recording);
}

function readOf(takes: readonly ReportTake[], { mark = [] }: Partial<Records>, measured: Measured, catalogue: Pick<Catalogue, "shutter_timing">): ReadTake[] {
  const moved = Object.fromEntries(mark.flatMap(({ take, moved: marks }) => (take && marks ? [[take, marks] as const] : [])));
  return readTakes(takes as Take[], measured, moved, catalogue);
}

/** The sound of every take that was measured, small, with whose marks it bears. */
function wavesOf(takes: readonly ReportTake[], read: readonly ReadTake[], waves: Waves) {
  return some(read.flatMap(({ id, reading }) => {
    const wave = waves[id];
    if (!wave) return [];
    const name = takeWords(takes.find((take) => take.id === id)!);
    const said = reading.open_time_s === null ? "could not be judged" : timeWords(reading.open_time_s);
    const whose = reading.moved ? "marks set by a person" : reading.open_s === null ? "no marks" : "marks set by the machine";
    return [{ wave_title: name, svg: waveSvg(wave, reading.open_s, reading.close_s, `Sound of ${name}: ${said}; ${whose}.`), words: `${said}; ${whose}` }];
  }));
}

function kindOf(piece: ReportPiece, catalogue: Shared) {
  return catalogue.shutter_kinds.find(({ id }) => id === piece.shutter_kind);
}

function rowOf(row: Row, regimes: ReadonlyMap<string, string>) {
  const { settled, cold, error_stops: error } = row;
  return {
    marked: row.marked.text,
    nominal: timeWords(row.nominal_s),
    cold: cold && span(cold.s, cold.low_s, cold.high_s),
    settled: settled && span(settled.median_s, settled.low_s, settled.high_s),
    n: settled?.n ?? 0,
    scatter: typeof settled?.scatter_stops === "number" ? fixed(settled.scatter_stops, 2) : "",
    error: error === null ? "" : stopsWords(error),
    error_range: error === null ? "" : `${stopsWords(row.error_low!)} to ${stopsWords(row.error_high!)}`,
    band: row.band,
    band_words: BAND_WORDS[row.band],
    regime: regimes.get(row.regime ?? "") ?? "",
    not_read: row.not_read > 0 ? `${counted(row.not_read, "take", "takes")} not readable` : "",
  };
}

function span(middleS: number, lowS: number, highS: number) {
  return { time: timeWords(middleS), range: `${timeWords(lowS)} to ${timeWords(highS)}` };
}

function coldWords(rows: readonly Row[], read: readonly ReadTake[]): string {
  const row = rows.find(({ cold }) => cold);
  const unsure = read.find(({ cold }) => cold);
  if (!row && unsure) {
    const timeS = unsure.reading.open_time_s;
    const about = timeS === null ? "" : ` (perhaps ${timeWords(timeS)})`;
    return `The first firing of the day was recorded, at ${unsure.marked.text}, but could not be read with certainty${about}: the cold state is not known.`;
  }
  if (!row?.cold) return "The first firing of the day was not recorded, so the cold state is not known.";
  const said = `First firing of the day, at ${row.marked.text}: ${timeWords(row.cold.s)}`;
  if (row.drift_stops === null) return `${said}. No settled firings at that speed to hold it against.`;
  return `${said}, ${stopsWords(row.drift_stops)} stop against the settled ones. Film gets the first firing.`;
}

/** Which regime is at fault and how, slow or erratic, and up to which mark the shutter is good. */
function linesOf(rows: readonly Row[], piece: ReportPiece, catalogue: Shared) {
  const { regimes, lines } = judgement(rows, piece, catalogue);
  const bad = regimes.map(({ state }) => state !== "fine" && state !== "usable");
  return lines.map((words, index) => ({ words, bad: bad[index] ?? false }));
}

function isByStop({ nominal_s: nominalS, settled, cold }: Row): boolean {
  return nominalS < STOP_MATTERS_BELOW_S && (settled ?? cold) !== null;
}

/** At which stop a figure was taken, where that matters. */
function stopWords(row: Row, takes: readonly ReportTake[]): string {
  if (!isByStop(row)) return "";
  const stops = distinct(takes.flatMap(({ intent, conditions }) => (intent!.marked.text === row.marked.text && conditions?.stop) || []));
  return stops.length > 0 ? `at ${listed(stops)}` : "stop not noted";
}

/** Takes that were kept though they could not be judged, and those whose sound is still on the phone. */
function unreadWords(takes: readonly ReportTake[], read: readonly ReadTake[], catalogue: Shared): string[] {
  const reasons: Readonly<Record<string, string>> = catalogue.shutter_timing.reasons;
  return takes.flatMap((take) => {
    const what = `${take.intent!.marked.text}, ${take.intent!.cold ? "cold" : "settled"}`;
    const reading = read.find(({ id }) => id === take.id)?.reading;
    if (!reading) return [`${what}: its recording is not on the server, so nothing was measured.`];
    if (reading.open_time_s !== null) return [];
    const [reason = ""] = (reasons[reading.reason ?? ""] ?? "").split(". ");
    return [`${what}: could not be judged. ${reason.replace(/\.+$/, "")}.`];
  });
}

/** Stops, temperature, attitude and days of all takes together. */
function conditionsOf(takes: readonly ReportTake[]): string {
  const said = takes.map(({ conditions }) => conditions ?? {});
  const stops = distinct(said.flatMap(({ stop }) => stop || []));
  const celsius = said.flatMap(({ celsius: one }) => one ?? []);
  const attitudes = distinct(said.flatMap(({ attitude }) => attitude || []));
  const days = distinct(takes.map(({ at }) => momentDay(at)).filter((day) => day !== ""));
  return [
    stops.length > 0 ? `iris at ${listed(stops)}` : "iris setting not noted",
    warmth(celsius),
    attitudes.length > 0 ? `lens pointing ${listed(attitudes)}`.replace("pointing level", "held level") : "attitude not noted",
    ...days,
  ].join("; ");
}

function warmth(celsius: readonly number[]): string {
  if (celsius.length === 0) return "temperature not noted";
  const [low, high] = [fixed(Math.min(...celsius), 0), fixed(Math.max(...celsius), 0)].map((text) => text.replace("-", "−"));
  return low === high ? `${low} °C` : `${low} to ${high} °C`;
}
