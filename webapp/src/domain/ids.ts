// Names two people reach on their own: record ids that are the hash of what they are about, and canonical place text.

import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";

const AXIS = /^[a-z]+$/;
// Source: the alphabet of 32 by D. Crockford (from memory), which has no I, L, O and U.
const NUMBER_LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const VALUE = /^[a-z0-9_./]+$/;

/** The id of the one answer to `check` at `place` (canonical text) in `visit`: 32 lowercase hex digits. */
export function answerId(visit: string, check: string, place: string): string {
  return hashed("answer", visit, check, place);
}

/** The id of the one `reading` of `check` at `place` (canonical text) in `visit`: 32 lowercase hex digits. */
export function readingId(visit: string, check: string, place: string, reading: string): string {
  return hashed("reading", visit, check, place, reading);
}

/** The id of the one record of how the person reckons: phones that begin it apart meet in it. */
export function moneyHabitsId(): string {
  return hashed("money_habits");
}

/** The id of the one deal about a piece at a session; no piece is the whole lot, no session is "": 32 lowercase hex digits. */
export function dealId(session: string, piece: string): string {
  return hashed("deal", session, piece);
}

/** The id of the one inquiry about a piece at a listing; no session is "": 32 lowercase hex digits. */
export function inquiryId(session: string, piece: string): string {
  return hashed("inquiry", session, piece);
}

/** The id of the book's own figure for a remedy: 32 lowercase hex digits. */
export function remedyCostId(remedy: string): string {
  return hashed("remedy_cost", remedy);
}

/**
 * The number of all reports about one session or piece, "K7QF-2M9D": 40 bits, for a card to be photographed with the piece.
 * It is known before there is a report. The letters leave out those that are mistaken for figures.
 */
export function reportNumber(about: string): string {
  const bits = BigInt(`0x${bytesToHex(sha256(utf8ToBytes(`report\n${about}`))).slice(0, 10)}`);
  const text = [35n, 30n, 25n, 20n, 15n, 10n, 5n, 0n].map((shift) => NUMBER_LETTERS[Number((bits >> shift) & 31n)]).join("");
  return `${text.slice(0, 4)}-${text.slice(4)}`;
}

/**
 * Axes as canonical text, sorted by name: {side: "a", holder: 3} is "holder=3;side=a"; no axes is "".
 * Throws RangeError for a name or value that canonical text cannot hold.
 */
export function placeText(axes: Readonly<Record<string, string | number>>): string {
  const parts = Object.entries(axes).map(([name, value]) => {
    if (!AXIS.test(name) || !VALUE.test(String(value))) throw new RangeError(`not a place: ${name}=${value}`);
    return [name, String(value)] as const;
  });
  return parts
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, value]) => `${name}=${value}`)
    .join(";");
}

/** The axes of canonical place text. Throws RangeError if the text is not canonical. */
export function parsePlace(text: string): Record<string, string> {
  const axes: Record<string, string> = {};
  for (const part of text ? text.split(";") : []) {
    const at = part.indexOf("=");
    axes[at < 0 ? part : part.slice(0, at)] = at < 0 ? "" : part.slice(at + 1);
  }
  if (placeText(axes) !== text) throw new RangeError(`not a canonical place: ${text}`);
  return axes;
}

/** The first 128 bits of SHA-256 over the parts, one a line: no part holds a line end, so no two lists meet. */
function hashed(...parts: string[]): string {
  return bytesToHex(sha256(utf8ToBytes(parts.join("\n")))).slice(0, 32);
}
