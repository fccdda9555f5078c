// The speeds marked on a shutter: one of the known series, or the shutter's own list as somebody reads it off.
import { parseMark, type Series } from "../../domain/exposure.ts";

export interface Mark { text: string; seconds: number | null }
export interface SpeedList { series: string; marks: Mark[] }

/** A known series as a list for the piece: seconds as the marks say; what a mark stands for exactly is the series' affair. */
export function seriesList(series: Pick<Series, "id" | "marks">): SpeedList {
  return { series: series.id, marks: series.marks.map(({ text }) => ({ text, seconds: parseMark(text) })) };
}

const SPEED = /^(\d{1,4})(?:\/(\d{1,4}))?$/;
const MOST = 30;

/**
 * Reads "1, 1/2, 1/5 1/10": each mark stands for itself and is never snapped to another series. A bare number from 2 on
 * is read as on a shutter's ring, 50 for 1/50, unless it ends in s ("2s"). T and B are kept without seconds.
 * Throws RangeError naming the word that is no speed.
 */
export function ownList(typed: string): SpeedList {
  const words = typed.trim().split(/[\s,;]+/).filter(Boolean);
  const marks = words.slice(0, MOST).map((word): Mark => {
    if (/^[tb]$/i.test(word)) return { text: word.toUpperCase(), seconds: null };
    const long = /s$/i.test(word);
    const found = SPEED.exec(long ? word.slice(0, -1) : word);
    const [num, den] = found ? [Number(found[1]), found[2] === undefined ? null : Number(found[2])] : [0, null];
    if (num === 0 || den === 0) throw new RangeError(`“${word}” is no speed. Write them as 1, 1/2, 1/5 or as on the ring: 1 2 5 10.`);
    if (den !== null) return { text: `${num}/${den}`, seconds: num / den };
    return long || num === 1 ? { text: String(num), seconds: num } : { text: `1/${num}`, seconds: 1 / num };
  });
  return { series: "own", marks };
}
