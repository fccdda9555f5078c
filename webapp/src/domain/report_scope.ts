// What a report speaks of: the pieces and visits shown, and of each piece what was last seen, measured and photographed.

import type { Bundle, OwnRecords, ReportAnswer, ReportPhoto, ReportPiece, ReportVisit } from "./report_records.ts";
import { byKey, momentDay } from "./report_words.ts";

export interface Subject {
  readonly about: { readonly session?: string; readonly piece?: string };
  /** Ids of the pieces to show; null is all. */
  readonly pieces?: readonly string[] | null;
  /** Ids of the groups of checks that the sender leaves out; the report says so. */
  readonly hidden_groups?: readonly string[];
}

type Turns = ReadonlyMap<string, number>;
interface OfVisit { readonly visit?: string }

const SOUNDS_OF = "lens.shutter";
// A look that was taken: it takes the place of an older one at the same check, while "not checked" does not.
const TAKEN = ["in_order", "worn", "faulty", "cannot_tell", "does_not_apply"];

/**
 * Each piece to be shown with its visits, the oldest first; a piece nobody visited is not shown.
 *
 * A report about a session tells of that session's visits alone; one about a piece of all its visits.
 */
export function shownPieces(bundle: Bundle, options: Subject): (readonly [ReportPiece, readonly ReportVisit[]])[] {
  const visits = bundle.visit ?? [];
  const tag = (piece: ReportPiece) => visits.findLast((visit) => visit.piece === piece.id)?.tag || "~";
  return (bundle.piece ?? [])
    .filter(({ id }) => !options.pieces || options.pieces.includes(id))
    .sort((a, b) => byKey((piece: ReportPiece) => [0, tag(piece)])(a, b) || byKey((piece: ReportPiece) => [0, piece.id])(a, b))
    .map((piece) => [piece, visitsOf(bundle, piece, options)] as const)
    .filter(([, own]) => own.length > 0);
}

/**
 * The records of a piece by kind, of each check what the newest visit that looked at it found.
 *
 * An answer from a visit before the last one carries its day as `seen_on`. Photos of a look that was taken again since, and
 * sounds from before the newest visit with sounds, are left behind: older versions of the report keep them. A film's photo
 * goes with the film, whenever it was taken. `seen` holds the answers of all the piece's visits. Of the groups of checks in `hidden` all is left out but the answers, which the
 * verdict hangs on.
 */
export function lastSeen(bundle: Bundle, piece: ReportPiece, visits: readonly ReportVisit[], hidden: readonly string[] = []): OwnRecords {
  const turns: Turns = new Map(visits.map(({ id }, at) => [id, at]));
  const ofVisits = <T extends OfVisit>(records: readonly T[] = []) => records.filter(({ visit }) => visit !== undefined && turns.has(visit));
  const ofPiece = <T extends { readonly piece?: string }>(records: readonly T[] = []) => records.filter((one) => one.piece === piece.id);
  const answers = newestAnswers(ofVisits(bundle.answer), turns);
  const told = <T extends { readonly check?: string | null }>(one: T) => !hidden.includes(groupOf(one.check));
  const films = ofPiece(bundle.film_test);
  const ofFilm = ({ id }: ReportPhoto) => films.some((film) => film.photo === id);
  const current = ofVisits(bundle.photo).filter((one) => isCurrent(one, answers, turns));
  const photo = (bundle.photo ?? []).filter((one) => told(one) && (ofFilm(one) || current.includes(one)));
  const sounds = !hidden.includes(SOUNDS_OF);
  const takes = sounds ? ofVisits(bundle.take) : [];
  const sounded = takes.length > 0 ? Math.max(...takes.map((one) => turnOf(one, turns))) : visits.length - 1;
  const take = takes.filter((one) => turnOf(one, turns) === sounded);
  const everyVisit = (bundle.visit ?? []).filter((one) => one.piece === piece.id).map(({ id }) => id);
  return {
    answer: answers.map((answer) => dated(answer, visits, turns)),
    seen: (bundle.answer ?? []).filter(({ visit }) => visit !== undefined && everyVisit.includes(visit)),
    reading: newest(ofVisits(bundle.reading).filter(told), turns, ({ check = "", place = "", reading = "" }) => JSON.stringify([check, place, reading])),
    photo,
    spot: (bundle.spot ?? []).filter((spot) => photo.some(({ id }) => id === spot.photo)),
    leak_reading: (bundle.leak_reading ?? []).filter((one) => photo.some(({ id }) => id === one.photo)),
    recording: (sounds ? ofVisits(bundle.recording) : []).filter((one) => turnOf(one, turns) === sounded),
    take,
    mark: (bundle.mark ?? []).filter((mark) => take.some(({ id }) => id === mark.take)),
    claim: ofPiece(bundle.claim),
    repair: ofPiece(bundle.repair),
    film_test: films,
  };
}

/** The group of a check, which its id begins with; "" for no check. */
export function groupOf(check: string | null | undefined): string {
  return (check ?? "").slice(0, Math.max(0, (check ?? "").lastIndexOf(".")));
}

/** Those that tell something come last, so that an empty visit after them says nothing; within a session only the last of all. */
function visitsOf(bundle: Bundle, piece: ReportPiece, { about }: Subject): ReportVisit[] {
  const visits = (bundle.visit ?? []).filter((visit) => visit.piece === piece.id && (about.session === undefined || visit.session === about.session));
  const telling = new Set([...(bundle.answer ?? []), ...(bundle.reading ?? []), ...(bundle.take ?? [])].map(({ visit }) => visit));
  const byTime = byKey((visit: ReportVisit) => [visit.began?.ms ?? 0, visit.id]);
  const ordered = [...visits].sort((a, b) => Number(telling.has(a.id)) - Number(telling.has(b.id)) || byTime(a, b));
  return about.session === undefined ? ordered : ordered.slice(-1);
}

/** A look at the whole piece takes the place of all older ones at the same check. */
function newestAnswers(answers: readonly ReportAnswer[], turns: Turns): ReportAnswer[] {
  let kept: ReportAnswer[] = [];
  for (const answer of inTurn(answers, turns)) {
    const replaced = kept.filter((one) => isSameLook(one, answer) && turnOf(one, turns) < turnOf(answer, turns));
    if (replaced.length > 0 && !TAKEN.includes(answer.result?.outcome ?? "")) continue;
    kept = [...kept.filter((one) => !replaced.includes(one)), answer];
  }
  return kept;
}

function isSameLook(old: ReportAnswer, fresh: ReportAnswer): boolean {
  return old.check === fresh.check && (!fresh.place || (old.place ?? "") === fresh.place);
}

function newest<T extends OfVisit>(records: readonly T[], turns: Turns, nameOf: (record: T) => string): T[] {
  return [...new Map(inTurn(records, turns).map((record) => [nameOf(record), record])).values()];
}

/** Not so where every look shown at the photo's check, and at its place if it has one, is newer than the photo. */
function isCurrent(photo: ReportPhoto, answers: readonly ReportAnswer[], turns: Turns): boolean {
  const looks = answers
    .filter(({ check, place }) => check === photo.check && (!photo.place || ["", photo.place].includes(place ?? "")))
    .map((answer) => turnOf(answer, turns));
  return !photo.check || looks.length === 0 || Math.min(...looks) <= turnOf(photo, turns);
}

function dated(answer: ReportAnswer, visits: readonly ReportVisit[], turns: Turns): ReportAnswer {
  const visit = visits[turnOf(answer, turns)];
  return visit === visits.at(-1) ? answer : { ...answer, seen_on: momentDay(visit?.began) };
}

function turnOf(record: OfVisit, turns: Turns): number {
  return turns.get(record.visit!)!;
}

function inTurn<T extends OfVisit>(records: readonly T[], turns: Turns): T[] {
  return [...records].sort((a, b) => turnOf(a, turns) - turnOf(b, turns));
}
