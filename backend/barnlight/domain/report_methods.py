"""How each figure of a report was got and what it cannot say, for the parts that the report has."""

from __future__ import annotations

from typing import Any

VERDICT = (
    "It follows from the answers by fixed rules and nobody typed it. A fault that stops a picture comes before everything else; "
    "a look that a picture hangs on and that was not taken leaves the piece not proven. What anybody claimed never counts as seen."
)
LAMP = (
    "Glass and blades were looked at with the lamp at hand. A stronger lamp shows dust and fine marks in any lens, so a fault that "
    "was not seen may still be there."
)
DARK = "Light was looked for in the dark that could be had, at the lengths named. A fold hole can open at one length and close at another, and new ones come with use."
INTERVAL = (
    "Each firing was recorded and its time taken from click to click. The two loud clicks are assumed to be the end of opening and the end of "
    "closing. That is close to the light-weighted time with the iris about one stop down; in a model of the blades it reads 0.24 stop long wide open "
    "at 1/250, 0.33 at 1/500, and about 0.2 short three stops down. Slow speeds hardly differ."
)
LIMITS = (
    "The range beside a time is meant to hold the true one 19 times in 20. It comes from simulated sound: no published accuracy of timing "
    "leaf shutters by sound was found. Marks faster than {judged_to} are an indication only and are neither passed nor failed."
)
BANDS = (
    "Error in stops is log2 of the measured time over the exact time that the mark stands for (1/125 stands for 1/128 s). Within 1/3 stop is called fine for film "
    "and within {usable} stop usable: common practice, as no standard's figures could be read."
)
TABLE = "A settled time is the median of n firings after the first one of the day; scatter is the longest against the shortest of them. Mechanisms drift with rest and cold."
DEPTH = (
    "Depth is from the face that seats on the camera to the divider, so to the back of the film; film thickness is not taken off. "
    "A side's figure is the mean of its points. Sheet film floats a little in its slot, which no gauge shows."
)
READINGS = "Figures stand as they were typed, with the instrument. A published figure is named with its source and how sure that source is."
FIT = (
    "What readings come to is reckoned from them: the range beside a figure is two standard uncertainties, about 19 in 20, of what the instrument reads to "
    "and what a hand repeats (GUM, JCGM 100:2008, from memory). A figure whose instrument was not noted stands among the readings alone."
)
WAVES = "The sound of each firing is drawn from the recording itself: the loudest sample of each column, each drawing to its own loudest."
PLACES = (
    "Numbered places in a photo taken in the dark are places to look at: light through a hole, a glint and the camera's own bright pixel look alike in one "
    "photo. Their number says nothing of how many holes there are, and a photo without one does not prove that no light comes through. The method was tuned on drawn pictures only."
)
UNSAID = (
    "Smell, insects and damp are told where somebody noticed them; nobody smells into a case on purpose. What is not told was not noticed, which is not the "
    "same as not there. Words for the whole, such as buyers and sellers use for looks, are not used: each word stands at what was seen."
)
HASHES = (
    "The SHA-256 of every photo and recording as it was published is listed below. An equal hash proves that a file is the one published; "
    "it proves nothing about the piece itself."
)


def methods(pieces: list[dict]) -> list[dict[str, Any]]:
    """{method_title, texts} for what the pieces (`report_piece`) hold."""
    shutter = next((piece["shutter"] for piece in pieces if piece["shutter"]), None)
    found = [("Verdict", [VERDICT])]
    if any(piece["has_lens"] for piece in pieces):
        found.append(("Glass", [LAMP]))
    if any(piece["has_dark"] for piece in pieces):
        found.append(("Light leaks", [DARK, PLACES] if any(piece["has_places"] for piece in pieces) else [DARK]))
    if shutter:
        figures = {"judged_to": shutter["judged_to"], "usable": shutter["usable"]}
        found.append(("Shutter times", [INTERVAL, LIMITS.format(**figures), TABLE, BANDS.format(**figures), *([WAVES] if shutter["waves"] else [])]))
    if any(piece["depth"] for piece in pieces):
        found.append(("Holder depth", [DEPTH]))
    if any(piece["readings"] for piece in pieces):
        found.append(("Readings", [READINGS, FIT] if any(piece["fit"] for piece in pieces) else [READINGS]))
    found += [("What is not told", [UNSAID]), ("Hashes", [HASHES])]
    return [{"method_title": title, "texts": texts} for title, texts in found]
