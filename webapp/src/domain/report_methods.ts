// How each figure of a report was got and what it cannot say, for the parts that the report has.

import type { PieceView } from "./report_piece.ts";

const VERDICT =
  "It follows from the answers by fixed rules and nobody typed it. A fault that stops a picture comes before everything " +
  "else; a look that a picture hangs on and that was not taken leaves the piece not proven. What anybody claimed never " +
  "counts as seen.";
const LAMP =
  "Glass and blades were looked at with the lamp at hand. A stronger lamp shows dust and fine marks in any lens, so a " +
  "fault that was not seen may still be there.";
const DARK =
  "Light was looked for in the dark that could be had, at the lengths named. A fold hole can open at one length and close" +
  " at another, and new ones come with use.";
const INTERVAL =
  "Each firing was recorded and its time taken from click to click. The two loud clicks are assumed to be the end of " +
  "opening and the end of closing. That is close to the light-weighted time with the iris about one stop down; in a model" +
  " of the blades it reads 0.24 stop long wide open at 1/250, 0.33 at 1/500, and about 0.2 short three stops down. Slow " +
  "speeds hardly differ.";
const LIMITS =
  "The range beside a time is meant to hold the true one 19 times in 20. It comes from simulated sound: no published " +
  "accuracy of timing leaf shutters by sound was found. Marks faster than {judged_to} are an indication only and are " +
  "neither passed nor failed.";
const BANDS =
  "Error in stops is log2 of the measured time over the exact time that the mark stands for (1/125 stands for 1/128 s). " +
  "Within 1/3 stop is called fine for film and within {usable} stop usable: common practice, as no standard's figures " +
  "could be read.";
const TABLE =
  "A settled time is the median of n firings after the first one of the day; scatter is the longest against the shortest " +
  "of them. Mechanisms drift with rest and cold.";
const DEPTH =
  "Depth is from the face that seats on the camera to the divider, so to the back of the film; film thickness is not " +
  "taken off. A side's figure is the mean of its points. Sheet film floats a little in its slot, which no gauge shows.";
const READINGS =
  "Figures stand as they were typed, with the instrument. A published figure is named with its source and how sure that " +
  "source is.";
const FIT =
  "What readings come to is reckoned from them: the range beside a figure is two standard uncertainties, about 19 in 20, of " +
  "what the instrument reads to and what a hand repeats (GUM, JCGM 100:2008, from memory). A figure whose instrument was not " +
  "noted stands among the readings alone.";
const WAVES =
  "The sound of each firing is drawn from the recording itself: the loudest sample of each column, each drawing to its own " +
  "loudest.";
const PLACES =
  "Numbered places in a photo taken in the dark are places to look at: light through a hole, a glint and the camera's own " +
  "bright pixel look alike in one photo. Their number says nothing of how many holes there are, and a photo without one does " +
  "not prove that no light comes through. The method was tuned on drawn pictures only.";
const UNSAID =
  "Smell, insects and damp are told where somebody noticed them; nobody smells into a case on purpose. What is not told was not " +
  "noticed, which is not the same as not there. Words for the whole, such as buyers and sellers use for looks, are not used: " +
  "each word stands at what was seen.";
const HASHES =
  "The SHA-256 of every photo and recording as it was published is listed below. An equal hash proves that a file is the " +
  "one published; it proves nothing about the piece itself.";

/** What is to be said for what the pieces hold. */
export function methods(pieces: readonly PieceView[]): { method_title: string; texts: string[] }[] {
  const shutter = pieces.find((piece) => piece.shutter)?.shutter;
  const said = (there: boolean, title: string, ...texts: string[]) => (there ? [{ method_title: title, texts }] : []);
  return [
    ...said(true, "Verdict", VERDICT),
    ...said(pieces.some((piece) => piece.has_lens), "Glass", LAMP),
    ...said(pieces.some((piece) => piece.has_dark), "Light leaks", DARK, ...(pieces.some((piece) => piece.has_places) ? [PLACES] : [])),
    ...(shutter ? said(true, "Shutter times", INTERVAL, LIMITS.replace("{judged_to}", shutter.judged_to), TABLE, BANDS.replace("{usable}", shutter.usable), ...(shutter.waves ? [WAVES] : [])) : []),
    ...said(pieces.some((piece) => piece.depth), "Holder depth", DEPTH),
    ...said(pieces.some((piece) => piece.readings), "Readings", READINGS, ...(pieces.some((piece) => piece.fit) ? [FIT] : [])),
    ...said(true, "What is not told", UNSAID),
    ...said(true, "Hashes", HASHES),
  ];
}
