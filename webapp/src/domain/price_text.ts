// Price notes from pasted lines: a day, an amount with its currency, and words; what is not clear is asked and never guessed.

import { type Money, parseMoney } from "./money.ts";
import type { PriceNote } from "./price_baseline.ts";

export const MOST_LINES = 2000;
const MOST_WORDS = 120;
const MOST_GROUP = 80;
const MOST_NOTE = 4000;
const FIRST_YEAR = 1800;
// Signs and what they may stand for; the person's usual currency goes first where it is among them. Codes by ISO 4217, from memory.
const SIGNS = new Map([["€", ["EUR"]], ["£", ["GBP"]], ["$", ["USD", "CAD", "AUD", "NZD", "HKD", "SGD", "MXN"]], ["¥", ["JPY", "CNY"]]]);
export const CURRENCY_CODES = new Set("EUR USD GBP CHF CAD AUD NZD JPY CNY HKD SGD TWD KRW INR SEK NOK DKK ISK PLN CZK HUF RON BGN TRY ILS ZAR BRL MXN ARS CLP THB MYR IDR PHP VND".split(" "));
const STATES = new Map<string, State>([["working", "working"], ["works", "working"], ["faulty", "faulty"], ["broken", "faulty"], ["defective", "faulty"], ["untested", "unknown"], ["unknown", "unknown"]]);
const SOLD = new Map([["sold", true], ["asked", false], ["asking", false], ["offered", false]]);
const NOT = new Set(["not", "non", "never"]);
const NEGATED = new Map<string, State | false>([["working", "faulty"], ["sold", false]]);
const AMOUNT = /^([€$£¥]|[A-Za-z]{3})?([0-9]+(?:[.,'][0-9]+)*)(?:[.,]-)?([€$£¥]|[A-Za-z]{3})?$/;
const DAY = /^(?:([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})|([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4}))$/;
const LIKE_A_DAY = /^[0-9]{1,4}([./-])[0-9]{1,2}\1[0-9]{2,4}$/;
const EDGES = /^[ ,;:()|·–—-]+|[ ,;:()|·–—-]+$/g;
const UNBROKEN = /([0-9])[\u00a0\u202f\u2009]([0-9]{3})/g;

type State = "working" | "faulty" | "unknown";

/** What was read of a line or a row: a note where there are no problems. */
export interface ReadNote extends Omit<PriceNote, "sold"> {
  readonly day: string;
  readonly what: string;
  readonly price: Money;
  /** Null where it is not said. */
  readonly sold: boolean | null;
  readonly state: State;
}

export interface ReadLine<N = ReadNote> {
  readonly line: number;
  readonly text: string;
  readonly note: N | null;
  /** What is wrong and what to do, in words. */
  readonly problems: readonly string[];
}

export type DraftNote = { readonly [F in keyof ReadNote]?: ReadNote[F] | null } & { readonly note?: string };

/**
 * Pasted lines, one price each: "2026-05-03 210 mm lens 180 EUR asked faulty".
 *
 * A price has its currency beside it, or stands bare at the end of the line and is in `currency`, the person's usual one. Without
 * a day it is today's.
 */
export function parseLines(text: string, today: string, currency: string): ReadLine[] {
  const lines = text.split(/\r\n|\r|\n/).flatMap((line, at) => (line.trim() ? [{ number: at + 1, line }] : []));
  const found = lines.slice(0, MOST_LINES).map(({ number, line }) => parsed(number, line, today, currency));
  const next = lines[MOST_LINES];
  if (next) found.push({ line: next.number, text: "", note: null, problems: [`Only ${MOST_LINES} lines are read at a time. Save these, then paste the rest.`] });
  return found;
}

/** What keeps a price note from being of use, and what to do; none if nothing does. */
export function noteProblems(note: DraftNote, today: string): string[] {
  const found: string[] = [];
  if (!note.what?.trim()) found.push("Say what it was.");
  for (const [said, most, word] of [[note.what, MOST_WORDS, "what it was"], [note.group, MOST_GROUP, "the group"], [note.note, MOST_NOTE, "the note"]] as const) {
    if ([...(said ?? "")].length > most) found.push(`Say ${word} in at most ${most} letters.`);
  }
  if (!note.price) found.push("Type the price, as in 120 or 89.50.");
  else if (note.price.minor <= 0) found.push("A price of 0 says nothing about what it is worth. Type what was paid or asked.");
  if (!note.day) found.push("Set the day.");
  else if (note.day > today) found.push("That day is yet to come. Set today or an earlier day.");
  return found;
}

/** For each note "book" if it stands in `known`, "above" if it stood earlier in `notes`, else null: same day, words, price and sold. */
export function seenBefore(notes: readonly (DraftNote | null)[], known: readonly PriceNote[]): ("book" | "above" | null)[] {
  const book = new Set(known.filter((note) => !note.deleted).map(likeness));
  const above = new Set<string>();
  return notes.map((note) => {
    if (note === null) return null;
    const like = likeness(note);
    const found = book.has(like) ? "book" : above.has(like) ? "above" : null;
    above.add(like);
    return found;
  });
}

/** A day as "2026-05-03" or "3.5.2026" in the first form; null if it is no day of the calendar, or no day of this form. */
export function readDay(text: string): string | null {
  const match = DAY.exec(text);
  if (!match) return null;
  const [year, month, day] = match[1] ? [match[1], match[2]!, match[3]!] : [match[6]!, match[5]!, match[4]!];
  const iso = `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;
  const at = new Date(`${iso}T00:00:00Z`);
  return Number(year) >= FIRST_YEAR && !Number.isNaN(at.getTime()) && at.toISOString().startsWith(iso) ? iso : null;
}

function likeness({ day, what, price, sold }: DraftNote): string {
  const words = (what ?? "").toLowerCase().trim().split(/\s+/).join(" ");
  return JSON.stringify([day ?? null, words, price?.minor ?? null, price?.currency ?? null, sold ?? null]);
}

function parsed(number: number, line: string, today: string, currency: string): ReadLine {
  // A space that does not break, between figures, groups thousands; an ordinary one may part two figures.
  const text = line.replaceAll("’", "'").replace(UNBROKEN, "$1'$2").replace(UNBROKEN, "$1'$2");
  const words = text.split(/[ \t\u00a0\u202f\u2009]+/).filter(Boolean);
  const problems: string[] = [];
  const day = takeDay(words, problems) ?? today;
  const { sold, state } = takeSaid(words, problems);
  const price = takePrice(words, currency, problems);
  const note = { day, what: bare(words.join(" ")), price, sold, state: state ?? "unknown" };
  // What is already said of the price is not said again.
  problems.push(...noteProblems(note, today).filter((one) => price || !one.startsWith("Type the price")));
  return { line: number, text: line.trim(), note: problems.length > 0 ? null : note as ReadNote, problems };
}

const bare = (word: string): string => word.replace(EDGES, "");

function takeDay(words: string[], problems: string[]): string | null {
  let found: string | null = null;
  for (const word of words.filter((one) => LIKE_A_DAY.test(bare(one)))) {
    words.splice(words.indexOf(word), 1);
    const day = readDay(bare(word));
    if (day === null) problems.push(`“${word}” is not clear as a day. Write it as 2026-05-03 or 3.5.2026.`);
    else if (found !== null && found !== day) problems.push("There are two days. Keep one a line.");
    found ??= day;
  }
  return found;
}

function takeSaid(words: string[], problems: string[]): { sold: boolean | null; state: State | null } {
  const sold = new Set<boolean>();
  const state = new Set<State>();
  const kept: string[] = [];
  for (const word of words) {
    const plain = bare(word).toLowerCase();
    const negated = kept.length > 0 && NOT.has(bare(kept.at(-1)!).toLowerCase());
    if ((negated && !NEGATED.has(plain)) || (!STATES.has(plain) && !SOLD.has(plain))) {
      kept.push(word);
      continue;
    }
    if (negated) kept.pop();
    if (SOLD.has(plain)) sold.add(negated ? false : SOLD.get(plain)!);
    else state.add(negated ? NEGATED.get(plain) as State : STATES.get(plain)!);
  }
  if (sold.size > 1) problems.push("Sold, or only asked? Keep one of the two words.");
  if (state.size > 1) problems.push("Working, or faulty? Keep one of the two words.");
  words.splice(0, words.length, ...kept);
  return { sold: sold.size === 1 ? [...sold][0]! : null, state: state.size === 1 ? [...state][0]! : null };
}

interface Priced { readonly begin: number; readonly end: number; readonly number: string; readonly code: string }

function takePrice(words: string[], currency: string, problems: string[]): Money | null {
  const plain = words.map(bare);
  const found = plain.flatMap((_, at) => pricedAt(plain, at, currency) ?? []);
  const last = AMOUNT.exec(plain.at(-1) ?? "");
  if (found.length === 0 && last && !last[1] && !last[3]) found.push({ begin: words.length - 1, end: words.length, number: last[2]!, code: currency });
  const [first, ...more] = found;
  if (!first || more.length > 0) {
    problems.push(first ? "There is more than one price. Keep one a line." : "There is no price. Write it with its currency, as in 180 EUR.");
    return null;
  }
  const { begin, end, number, code } = first;
  const at = plain[begin]!.includes(number) ? begin : begin + 1;
  for (const head of [at - 1, at]) {
    const tail = plain[head + 1];
    if (head >= 0 && tail !== undefined && /^[0-9]{1,3}$/.test(plain[head]!) && /^[0-9]{3}(?![0-9])/.test(tail)) {
      problems.push(`Is the price ${plain[head]}${tail} or ${number}? Write it without a space, or put a word between the figures.`);
      return null;
    }
  }
  words.splice(begin, end - begin);
  try {
    return parseMoney(number, code);
  } catch (error) {
    problems.push((error as Error).message);
    return null;
  }
}

/** The price that begins at a word. */
function pricedAt(plain: readonly string[], at: number, usual: string): Priced | null {
  const here = AMOUNT.exec(plain[at]!);
  const beside = here && (currencyOf(here[1], usual) ?? currencyOf(here[3], usual));
  if (beside) return { begin: at, end: at + 1, number: here[2]!, code: beside };
  const next = plain[at + 1];
  if (next === undefined) return null;
  const after = here && !here[1] && !here[3] && currencyOf(next, usual);
  if (after) return { begin: at, end: at + 2, number: here[2]!, code: after };
  const following = AMOUNT.exec(next);
  const before = following && !following[1] && !following[3] && currencyOf(plain[at], usual);
  return before ? { begin: at, end: at + 2, number: following[2]!, code: before } : null;
}

/** The ISO 4217 code a sign or word stands for. */
function currencyOf(word: string | undefined, usual: string): string | null {
  const signs = SIGNS.get(word ?? "");
  if (signs) return signs.includes(usual) ? usual : signs[0]!;
  const code = (word ?? "").toUpperCase();
  if (code === "EURO" || code === "EUROS") return "EUR";
  return CURRENCY_CODES.has(code) || (code !== "" && code === usual) ? code : null;
}
