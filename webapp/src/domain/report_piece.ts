// One piece in a report: what it is, what comes with it, the verdict, what was not checked, and every finding and figure.

import type { Catalogue } from "./catalogue.ts";
import { applicable } from "./checks.ts";
import { bundle } from "./remedies.ts";
import { depthSection } from "./report_depth.ts";
import { faultWords, groups, wrong } from "./report_findings.ts";
import { fitFigures } from "./report_fit.ts";
import { cautions, claims, filmTests, repairs } from "./report_history.ts";
import { notChecked } from "./report_not_checked.ts";
import { gallery, inOrder, leftOutWords, pictures } from "./report_photos.ts";
import { readingsTable } from "./report_readings.ts";
import type { OwnRecords, ReportAnswer, ReportPiece, ReportVisit } from "./report_records.ts";
import { howToWork, type Measured, shutterSection, takeWords, type Waves } from "./report_shutter.ts";
import { pieceFacts, typesOf, verdictWords } from "./report_verdict.ts";
import { byKey, distinct, momentDay, some, titleOf } from "./report_words.ts";
import { verdict } from "./verdict.ts";

/** What of `ReportOptions` a piece needs. */
interface Shown {
  readonly measured: Measured;
  readonly waves?: Waves;
  readonly here: readonly string[];
  readonly hidden_groups?: readonly string[];
}

export type PieceView = ReturnType<typeof pieceView>;

/** `visits`: the oldest first; `records`: as `lastSeen` gives them; `options`: as `reportView` takes them; photos are numbered from `firstPhoto`. */
export function pieceView(index: number, piece: ReportPiece, visits: readonly ReportVisit[], records: OwnRecords, options: Shown, firstPhoto: number, catalogue: Catalogue) {
  const visit = visits.at(-1)!;
  const sample = visits.findLast((one) => one.sample)?.sample ?? null;
  const answers = records.answer.filter((answer) => answer.check && answer.result);
  const judged = verdict(piece, answers, catalogue);
  const shown = pictures(records.photo, records.spot, records.leak_reading, options.here, firstPhoto, catalogue);
  const byPhoto = new Map(inOrder(records.photo).map(({ id }, index) => [id, shown[index]!]));
  const ofFilms = records.film_test.map(({ photo }) => byPhoto.get(photo ?? ""));
  const ofLooks = shown.filter((picture) => !ofFilms.includes(picture));
  const lookedFor = applicable(piece, catalogue).map(({ id }) => id);
  const hidden = options.hidden_groups ?? [];
  return {
    ref: piece.id,
    piece_anchor: `piece-${index}`,
    number: index,
    title: pieceTitle(piece, catalogue),
    looked_on: momentDay(visit.began),
    occasion: titleOf(catalogue.terms.occasions, visit.occasion).toLowerCase(),
    inspector: visit.inspector ?? "",
    facts: pieceFacts(piece, visit, catalogue),
    marks: some((piece.marks ?? []).map((mark) => ({ place: mark.place, text: mark.none_marked ? "" : mark.text, none: mark.none_marked === true }))),
    comes_with: countedItems(piece, true),
    lacks: countedItems(piece, false),
    earlier: answers.some(({ seen_on: day }) => Boolean(day)),
    verdict: verdictWords(piece, sample, judged, catalogue),
    not_checked: notChecked(piece, answers, judged, catalogue),
    wrong: wrongSection(piece, answers, wrong(judged, catalogue), catalogue),
    pictures: gallery(ofLooks.filter(({ check }) => !check || !lookedFor.includes(check))),
    all_pictures: shown.filter(({ missing }) => !missing).map(({ number, hash }) => ({ number, hash })),
    left_out_photos: leftOutWords(records.photo, catalogue),
    hidden: hiddenTitles(piece, hidden, catalogue),
    groups: groups(piece, answers, ofLooks, hidden, catalogue),
    shutter: shutterSection(piece, records, options.measured, options.waves ?? {}, catalogue),
    work: howToWork(piece, catalogue),
    depth: depthSection(piece, records.reading, catalogue),
    fit: some(fitFigures(piece, records.reading, catalogue)),
    readings: some(readingsTable(piece, records.reading, catalogue)),
    claims: some(claims(records.claim, records.seen, catalogue)),
    repairs: some(repairs(records.repair, catalogue)),
    film_tests: some(filmTests(records.film_test, byPhoto)),
    cautions: some(cautions(piece, answers, catalogue)),
    recordings: recordingsOf(records),
    has_lens: piece.kind === "lens",
    has_dark: shown.some(({ leaks }) => leaks) || answers.some(({ check }) => catalogue.checks.some((one) => one.id === check && (one.lit === "dark" || one.leak_photo))),
    has_places: shown.some(({ leaks }) => leaks),
    made_by_code: shown.some(({ made_by_code: made }) => made) || records.recording.some(({ origin }) => origin === "made_by_code"),
  };
}

/** The piece's own title, else what kind of thing it is. */
export function pieceTitle(piece: ReportPiece, catalogue: Pick<Catalogue, "terms">): string {
  return piece.title || kindWords(piece, catalogue);
}

/** "Monorail", "Sheet-film holders", or the kind alone for a lens and where the type is not known. */
export function kindWords(piece: ReportPiece, catalogue: Pick<Catalogue, "terms">): string {
  const kind = piece.kind || "other";
  const title = titleOf(catalogue.terms.piece_kinds, kind, "Piece");
  return kind === "lens" ? title : titleOf(typesOf(kind, catalogue), piece.type, title);
}

function countedItems(piece: ReportPiece, there: boolean) {
  return some((piece.comes_with ?? []).filter(({ count }) => count > 0 === there).map(({ item, count }) => ({ item, count })));
}

/** The groups that the sender left out and this piece has. */
function hiddenTitles(piece: ReportPiece, hidden: readonly string[], catalogue: Catalogue) {
  const own = applicable(piece, catalogue).map(({ group }) => group);
  return some(catalogue.groups.filter(({ id }) => hidden.includes(id) && own.includes(id)).map(({ title }) => ({ hidden_title: title })));
}

function wrongSection(piece: ReportPiece, answers: readonly ReportAnswer[], found: ReturnType<typeof wrong>, catalogue: Catalogue) {
  return found.length > 0 ? { list: found, remedies: some(remedies(piece, answers, catalogue)) } : null;
}

/** What would put the faults right, and how long that takes; never what it costs. */
function remedies(piece: ReportPiece, answers: readonly ReportAnswer[], catalogue: Catalogue) {
  const here = applicable(piece, catalogue);
  return bundle(answers.filter(({ check }) => here.some(({ id }) => id === check)), catalogue).map((remedy) => {
    const named = remedy.faults.flatMap((one) => faultWords(here.find(({ id }) => id === one.check)!, [one.fault]));
    return {
      remedy: remedy.title + (remedy.times === 1 ? "" : `, ${remedy.times} times`),
      who: titleOf(catalogue.terms.who, remedy.who).toLowerCase().replace("yourself", "oneself"),
      weeks: `${remedy.weeks.low} to ${remedy.weeks.high} weeks`,
      cures: distinct(named.map(({ fault }) => fault)).join(", ").toLowerCase(),
    };
  });
}

/** Each recording with the takes it holds. */
function recordingsOf(records: OwnRecords) {
  const takes = [...records.take].sort(byKey((take) => [take.intent?.ordinal ?? 1, take.id]));
  return records.recording
    .filter(({ file }) => file)
    .sort(byKey((one) => [one.made?.ms ?? 0, one.id]))
    .map(({ id, file }) => ({ what: takes.filter(({ recording }) => recording === id).map(takeWords).join("; ") || "no take", hash: file!.hash }));
}
