// What a shutter's table says of the whole: which part is at fault, how far it is good, and speeds that read too much alike.

import { type Bands, isJudged, parseMark } from "./exposure.ts";
import { distinct, listed } from "./report_words.ts";
import { fixed } from "./rounding.ts";
import type { Mark, Row } from "./shutter_table.ts";

export type RegimeState = "fine" | "usable" | "slow" | "fast" | "mixed" | "erratic";

export interface RegimeJudged {
  /** Null where the kind of shutter is not known. */
  readonly id: string | null;
  readonly title: string;
  readonly state: RegimeState;
  /** Marks beyond the bands. */
  readonly at: readonly string[];
  /** What usually lies behind it. */
  readonly cause: string | null;
}

export interface Alike {
  readonly slower: string;
  readonly faster: string;
  readonly step_stops: number;
  readonly nominal_stops: number;
}

export interface Judgement {
  readonly regimes: readonly RegimeJudged[];
  readonly alike: readonly Alike[];
  /** An error that all speeds share, in stops. */
  readonly even_stops: number | null;
  readonly good_up_to: Mark | null;
  /** Slower marks that are not good. */
  readonly but: readonly string[];
  /** Marks that sound could judge and no firing has. */
  readonly untried: readonly string[];
  readonly lines: readonly string[];
}

interface Regime {
  readonly id: string;
  readonly title: string;
  readonly if_slow?: string;
  readonly if_fast?: string;
}

interface JudgementCatalogue {
  readonly shutter_kinds: readonly { readonly id: string; readonly regimes: readonly Regime[] }[];
  readonly shutter_timing: { readonly bands: Bands };
}

interface ShutterPiece {
  readonly speeds?: { readonly marks?: readonly Mark[] } | null;
  readonly shutter_kind?: string | null;
}

/** A row with a band that says good or bad; such a row has its errors. */
type JudgedRow = Row & { readonly error_stops: number; readonly error_low: number; readonly error_high: number };

const JUDGED: readonly string[] = ["fine", "usable", "needs_service", "erratic"];
// Neighbouring marks this far apart or more are steps of about one stop; closer ones (1/75, 1/100) prove nothing.
const LEAST_STEP_STOPS = 0.75;
// Marks that read less than half their step apart read alike; common practice, no source (trade notes 4: 1 s right, 1/2 = 0.9 s).
const ALIKE_SHARE = 0.5;
const LEAST_FOR_EVEN = 3;

/** `rows`: of `table`. Marks faster than sound can judge count neither for nor against. */
export function judgement(rows: readonly Row[], piece: ShutterPiece, catalogue: JudgementCatalogue): Judgement {
  const { bands } = catalogue.shutter_timing;
  const judged = rows.filter((row): row is JudgedRow => JUDGED.includes(row.band));
  const regimes = regimesOf(judged, piece, catalogue);
  const alike = alikeOf(judged);
  const even = evenOf(judged, bands);
  const best = judged.filter(isGood).at(-1);
  const but = judged.filter((row) => !isGood(row) && best && row.nominal_s > best.nominal_s).map(text);
  const untried = untriedOf(judged, rows, piece, bands);
  const upTo = best?.marked ?? null;
  return { regimes, alike, even_stops: even, good_up_to: upTo, but, untried, lines: linesOf(regimes, alike, even, upTo, but, untried) };
}

const isGood = (row: Row): boolean => row.band === "fine" || row.band === "usable";
const text = (row: Row): string => row.marked.text;

function regimesOf(judged: readonly JudgedRow[], piece: ShutterPiece, catalogue: JudgementCatalogue): RegimeJudged[] {
  const known = catalogue.shutter_kinds.find(({ id }) => id === piece.shutter_kind)?.regimes ?? [];
  const idOf = (row: Row) => known.find(({ id }) => id === row.regime)?.id ?? null;
  return distinct(judged.map(idOf)).map((id): RegimeJudged => {
    const { state, at } = stateOf(judged.filter((row) => idOf(row) === id));
    const about = known.find((one) => one.id === id);
    const cause = state === "slow" ? about?.if_slow : state === "fast" ? about?.if_fast : undefined;
    return { id, title: about?.title ?? "Shutter of unknown kind", state, at, cause: cause ?? null };
  });
}

/** The state of one regime and the marks that are beyond the bands. Erratic comes first: no figure of such a speed holds. */
function stateOf(rows: readonly JudgedRow[]): Pick<RegimeJudged, "state" | "at"> {
  const erratic = rows.filter(({ band }) => band === "erratic");
  if (erratic.length > 0) return { state: "erratic", at: erratic.map(text) };
  const off = rows.filter(({ band }) => band === "needs_service");
  if (off.length === 0) return { state: rows.some(({ band }) => band === "usable") ? "usable" : "fine", at: [] };
  const slow = off.filter((row) => row.error_stops > 0).length;
  return { state: slow === off.length ? "slow" : slow === 0 ? "fast" : "mixed", at: off.map(text) };
}

/** Neighbours of one regime that read nearly the same, beyond what their limits explain: the ring or cam, not dried oil. */
function alikeOf(judged: readonly JudgedRow[]): Alike[] {
  const steady = judged.filter(({ band }) => band !== "erratic");
  return steady.slice(1).flatMap((faster, index): Alike[] => {
    const slower = steady[index]!;
    const nominal = Math.log2(slower.nominal_s / faster.nominal_s);
    const step = nominal + slower.error_stops - faster.error_stops;
    const most = nominal + slower.error_high - faster.error_low;
    const found = slower.regime === faster.regime && nominal >= LEAST_STEP_STOPS && step < ALIKE_SHARE * nominal && most < nominal;
    return found ? [{ slower: text(slower), faster: text(faster), step_stops: step, nominal_stops: nominal }] : [];
  });
}

/** The mean error of a shutter that is off by about the same at every speed, in stops. */
function evenOf(judged: readonly JudgedRow[], bands: Bands): number | null {
  const errors = judged.map((row) => row.error_stops);
  if (errors.length < LEAST_FOR_EVEN || judged.some(({ band }) => band === "erratic")) return null;
  if (Math.max(...errors) - Math.min(...errors) > bands.fine_stops) return null;
  const mean = errors.reduce((sum, one) => sum + one, 0) / errors.length;
  return Math.abs(mean) > bands.fine_stops ? mean : null;
}

/** Marks on the shutter that sound could judge and no firing has, slowest first. */
function untriedOf(judged: readonly JudgedRow[], rows: readonly Row[], piece: ShutterPiece, bands: Bands): string[] {
  const marks = distinct([...(piece.speeds?.marks ?? []).map((mark) => mark.text), ...rows.map(text)]);
  const heard = judged.map(text);
  const open = marks.flatMap((mark) => {
    const saidS = parseMark(mark);
    return saidS !== null && isJudged(saidS, bands) && !heard.includes(mark) ? [{ mark, saidS }] : [];
  });
  return open.sort((a, b) => b.saidS - a.saidS).map(({ mark }) => mark);
}

function linesOf(regimes: readonly RegimeJudged[], alike: readonly Alike[], even: number | null, upTo: Mark | null, but: readonly string[], untried: readonly string[]): string[] {
  if (regimes.length === 0) return ["No speed could be judged yet."];
  const good = upTo ? `Good up to ${upTo.text}` : "Good at no speed judged";
  return [
    ...regimes.map(regimeLine),
    ...alike.map((one) => `${one.slower} and ${one.faster} read nearly alike: look whether the ring was set; if it was, suspect the ring or its cam, not old oil.`),
    ...(even === null ? [] : [`All speeds judged are about ${fixed(Math.abs(even), 1)} stop ${even > 0 ? "slow" : "fast"} alike: a label on the board, not a fault.`]),
    `${good}${but.length > 0 ? `, but not ${listed(but)}` : ""}${untried.length > 0 ? `; ${listed(untried)} not judged` : ""}.`,
  ];
}

function regimeLine({ title, state, at, cause }: RegimeJudged): string {
  const marks = listed(at);
  const words = {
    fine: "fine",
    usable: "usable; write the true speeds down",
    slow: `too slow at ${marks}`,
    fast: `too fast at ${marks}`,
    mixed: `far off at ${marks}, slow and fast`,
    erratic: `differs from firing to firing at ${marks}`,
  }[state];
  return `${title}: ${words}.${cause ? ` ${cause}` : ""}`;
}
