"""The photos of a report: numbered through it, each with the spots a person marked, numbered as they were marked."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from barnlight.domain.report_leaks import leak_places
from barnlight.domain.report_scope import group_of
from barnlight.domain.report_words import counted, listed, moment_day, place_words
from barnlight.domain.rounding import half_away

SPOT_SHARE = 0.032
MANY = 2
BESIDE = {"lamp_off": ", with the lamp off: light that shows here, too, did not come from the lamp", "moved": ", from a little aside, with the lamp on"}


def pictures(
    photos: Iterable[Mapping], spots: Iterable[Mapping], leaks: Iterable[Mapping], here: Collection[str], first: int, catalogue: Mapping
) -> list[dict[str, Any]]:
    """The photos to be shown, oldest first, counted from `first`; those the sender left out are not among them.

    `spots` come in the order they were marked; `leaks` are the leak readings, one a photo. `here`: hashes whose bytes can be shown; any other photo says that it is still on the phone.
    """
    titles = {check["id"]: check["title"] for check in catalogue["checks"]}
    marked: dict[str, list[Mapping]] = {}
    for spot in spots:
        if spot.get("at"):
            marked.setdefault(spot["photo"], []).append(spot)
    searched = {one["photo"]: one for one in leaks if one.get("photo")}
    shown = in_order(photos)
    numbers = {photo["id"]: first + index for index, photo in enumerate(shown)}
    beside = _beside(searched.values(), numbers)
    return [
        _picture(photo, marked.get(photo["id"], []), searched.get(photo["id"]), numbers[photo["id"]], beside.get(photo["id"], ""), here, titles, catalogue)
        for photo in shown
    ]


def in_order(photos: Iterable[Mapping]) -> list[Mapping]:
    """The photos to be shown, as `pictures` gives them."""
    return sorted((photo for photo in photos if photo.get("file") and not photo.get("left_out")), key=_when)


def gallery(shown: list[dict[str, Any]]) -> dict[str, Any] | None:
    """Photos that stand together; many stand closer on paper."""
    return {"list": shown, "many": len(shown) > MANY} if shown else None


def left_out_words(photos: Iterable[Mapping], catalogue: Mapping) -> str:
    """How many photos the sender left out, and of what."""
    titles = {group["id"]: group["title"] for group in catalogue["groups"]}
    out = [photo for photo in photos if photo.get("left_out")]
    of = listed(list(dict.fromkeys(titles[group] for photo in out if (group := group_of(photo.get("check"))) in titles)))
    return f"{counted(len(out), 'photo was', 'photos were')} left out by the sender{f' ({of})' if of else ''}." if out else ""


def _beside(leaks: Iterable[Mapping], numbers: Mapping[str, int]) -> dict[str, str]:
    """What each second photo of a leak reading was taken for, by its id."""
    pairs = [(one["photo"], one["second"]) for one in leaks if one.get("second")]
    return {second["photo"]: f"Taken beside photo {numbers[photo]}{BESIDE.get(second['how'], '')}." for photo, second in pairs if photo in numbers}


def _when(photo: Mapping) -> tuple[int, str]:
    return ((photo.get("taken") or {}).get("ms", 0), photo["id"])


def _picture(
    photo: Mapping, spots: list[Mapping], searched: Mapping | None, number: int, beside: str, here: Collection[str], titles: Mapping, catalogue: Mapping
) -> dict[str, Any]:
    file, check = photo["file"], photo.get("check")
    place = photo.get("place") or ""
    where = place_words(place, catalogue)
    caption = photo.get("caption") or ""
    about = ", ".join(words for words in (titles.get(check or "", ""), where) if words)
    radius = half_away(SPOT_SHARE * max(file["width"], file["height"]), 1)
    shown = [_spot(spot, n, file, radius) for n, spot in enumerate(spots, 1)]
    return {
        "number": number,
        "anchor": f"photo-{number}",
        "hash": file["hash"],
        "src": f"photo/{file['hash']}.jpg",
        "missing": file["hash"] not in here,
        "width": file["width"],
        "height": file["height"],
        "stroke": half_away(radius / 7, 1),
        "font": half_away(radius * 1.25, 1),
        "caption": caption,
        "beside": beside,
        "about": about,
        # A reader who cannot see it is told what it shows and that spots follow in words.
        "alt": f"Photo {number}: {caption or about or 'the piece'}" + (f", with {len(shown)} marked spots" if shown else ""),
        "taken": moment_day(photo.get("taken")),
        "made_by_code": photo.get("origin") == "made_by_code",
        "spots": {"list": shown} if shown else None,
        "leaks": searched and leak_places(searched, file),
        "check": check,
        "place": place,
    }


def _spot(spot: Mapping, n: int, file: Mapping, radius: float) -> dict[str, Any]:
    x, y = spot["at"]["x"] * file["width"], spot["at"]["y"] * file["height"]
    # The number stands beside its ring, on whichever side has room.
    beside = x + 2 * radius if x < 0.8 * file["width"] else x - 2 * radius
    return {
        "n": n, "x": half_away(x, 1), "y": half_away(y, 1), "r": radius,
        "number_x": half_away(beside, 1), "number_y": half_away(y + radius * 0.45, 1), "label": spot.get("label") or "",
    }  # fmt: skip
