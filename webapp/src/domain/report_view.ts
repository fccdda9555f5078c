// The report view: records and catalogue in, plain data for the template out.
//
// Nothing reaches a report that is not copied here or in report_* by its own name: a record is never passed on whole, so a
// field that nobody thought of stays private.

import type { Catalogue } from "./catalogue.ts";
import { reportNumber } from "./ids.ts";
import { methods } from "./report_methods.ts";
import { kindWords, pieceTitle, pieceView, type PieceView } from "./report_piece.ts";
import type { Bundle, ReportPiece, ReportSession, ReportVisit } from "./report_records.ts";
import { lastSeen, shownPieces, type Subject } from "./report_scope.ts";
import type { Measured, Waves } from "./report_shutter.ts";
import { counted, dayWords, distinct, listed, type Moment, momentDay, titleOf } from "./report_words.ts";

export interface ReportOptions extends Subject {
  /** By take id. */
  readonly measured: Measured;
  readonly waves?: Waves;
  /** Hashes whose bytes can be shown. */
  readonly here: readonly string[];
  readonly version: number;
  readonly published: Moment;
  readonly catalogue_hash: string;
}

/**
 * The view of one piece or of a session's pieces.
 *
 * A piece is shown as its latest visit in that session found it; in a report about the piece alone, as it was last seen, look
 * by look. `snapshot` and `since` are empty: whoever publishes fills them. Throws RangeError where there is no visit to show.
 */
export function reportView(bundle: Bundle, catalogue: Catalogue, options: ReportOptions) {
  const shown = shownPieces(bundle, options);
  if (shown.length === 0) throw new RangeError("Nothing has been looked at yet, so there is nothing to report.");
  const pieces: PieceView[] = [];
  let photos = 0;
  for (const [piece, visits] of shown) {
    const records = lastSeen(bundle, piece, visits, options.hidden_groups);
    pieces.push(pieceView(pieces.length + 1, piece, visits, records, options, photos + 1, catalogue));
    photos += records.photo.filter((photo) => photo.file && !photo.left_out).length;
  }
  const session = sessionOf(bundle, shown[0]![1].at(-1)!, options);
  return {
    title: titleFor(shown.map(([piece]) => piece), catalogue),
    looked: lookedWords(session, pieces, catalogue),
    version: options.version,
    number: reportNumber(options.about.session ?? options.about.piece!),
    published: momentDay(options.published),
    made_by_code: pieces.some((piece) => piece.made_by_code),
    lot: pieces.length > 1 ? { list: pieces.map(lotLine), count: counted(pieces.length, "piece", "pieces") } : null,
    pieces,
    methods: methods(pieces),
    hashes: hashesOf(pieces),
    catalogue: { revision: catalogue.revision, hash: options.catalogue_hash },
    algorithm: catalogue.shutter_timing.algorithm,
    snapshot: "",
    since: null,
  };
}

/** The photos a view shows, each once: what its link may serve, and nothing else. */
export function photoHashes(view: { readonly pieces: readonly { readonly all_pictures: readonly { readonly hash: string }[] }[] }): string[] {
  return distinct(view.pieces.flatMap((piece) => piece.all_pictures.map(({ hash }) => hash)));
}

/** Hashes of the photos and recordings that a report with these options speaks of, each once. */
export function neededFiles(bundle: Bundle, options: Subject): string[] {
  const records = shownPieces(bundle, options).map(([piece, visits]) => lastSeen(bundle, piece, visits, options.hidden_groups));
  const photos = records.flatMap(({ photo }) => photo.flatMap(({ file, left_out: out }) => (file && !out ? [file.hash] : [])));
  return distinct([...photos, ...records.flatMap(({ recording }) => recording.flatMap(({ file }) => (file ? [file.hash] : [])))]);
}

function sessionOf(bundle: Bundle, visit: ReportVisit, { about }: Subject): ReportSession | undefined {
  const wanted = about.session ?? visit.session;
  return (bundle.session ?? []).find(({ id }) => id === wanted);
}

/** The session's own title is private, so a lot is named by what is in it. */
function titleFor(pieces: readonly ReportPiece[], catalogue: Catalogue): string {
  if (pieces.length === 1) return pieceTitle(pieces[0]!, catalogue);
  const kinds = distinct(pieces.map((piece) => kindWords(piece, catalogue).toLowerCase()));
  return `${counted(pieces.length, "piece", "pieces")}: ${listed(kinds)}`.slice(0, 120);
}

/** Day and kind of place; never whose place or where. */
function lookedWords(session: ReportSession | undefined, pieces: readonly PieceView[], { terms }: Catalogue): string {
  const day = dayWords(session?.day) || pieces[0]!.looked_on;
  const venue = titleOf(terms.venue_kinds, session?.venue_kind).toLowerCase();
  const how = session?.remote ? "Judged from afar, not in the hand" : "Looked at";
  return `${[day ? `${how} on ${day}` : how, venue].filter((words) => words !== "").join(", ")}.`;
}

function lotLine(piece: PieceView) {
  const { verdict, not_checked: missed, wrong } = piece;
  const faults = (wrong?.list ?? []).flatMap(({ items }) => items.flatMap((item) => item.faults.map(({ fault }) => fault)));
  const hang = (missed.stopping?.reasons ?? []).reduce((sum, { list }) => sum + list.length, 0);
  return {
    lot_title: piece.title, lot_link: piece.piece_anchor, lot_number: piece.number,
    lot_verdict: verdict.words, lot_range: [verdict.range, verdict.holders].filter((words) => words !== "").join(" "),
    lot_wrong: distinct(faults).join("; ") || "no fault seen in what was looked at",
    lot_missed: `${missed.count} of ${missed.of} looks${hang > 0 ? `, ${hang} that a picture hangs on` : ""}`,
  };
}

function hashesOf(pieces: readonly PieceView[]): { what: string; hash: string }[] {
  return [
    ...pieces.flatMap((piece) => piece.all_pictures.map(({ number, hash }) => ({ what: `Photo ${number}`, hash }))),
    ...pieces.flatMap((piece) => piece.recordings.map(({ what, hash }) => ({ what: `Recording: ${what}`, hash }))),
  ];
}
