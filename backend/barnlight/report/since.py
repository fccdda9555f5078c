"""What a new version of a report says that the one before did not: compares two frozen views, word against word."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

NOT_SAID = "not in the report"
DATED = " (looked at on "
SOUND = ("in_order", "worn")


def since(old: Mapping[str, Any], new: Mapping[str, Any]) -> dict[str, Any]:
    """{version, published, pieces: [{title, list: [{what, where, was, now}]}], repaired: pairs of before and after, or None, nothing}.

    `old` may be a view of an earlier form of the report: what it does not have it does not say.
    """
    before = {_ref(piece): piece for piece in old["pieces"]}
    pairs = [(before.pop(_ref(piece), None), piece) for piece in new["pieces"]]
    pieces = [{"title": piece["title"], "list": _changes(earlier, piece)} for earlier, piece in pairs]
    pieces += [{"title": piece["title"], "list": [_line("The piece", "", "in the report", NOT_SAID)]} for piece in before.values()]
    pieces = [one for one in pieces if one["list"]]
    repaired = [pair for earlier, piece in pairs if earlier for pair in _repaired(earlier, piece, old["version"])]
    return {
        "version": old["version"], "published": old["published"], "pieces": pieces, "nothing": not pieces,
        "repaired": {"list": repaired} if repaired else None,
    }  # fmt: skip


def earlier_photos(found: Mapping[str, Any]) -> list[str]:
    """The photos of the version before that the comparison shows."""
    return [pair["before"]["picture"]["hash"] for pair in (found["repaired"] or {"list": []})["list"] if pair["before"]["picture"]]


def _ref(piece: Mapping[str, Any]) -> str:
    return piece.get("ref") or piece["title"]


def _changes(old: Mapping[str, Any] | None, new: Mapping[str, Any]) -> list[dict[str, str]]:
    if old is None:
        return [_line("The piece", "", NOT_SAID, "in the report")]
    was, now = dict(_statements(old)), dict(_statements(new))
    changed = [_line(*key, was.get(key, NOT_SAID), now.get(key, NOT_SAID)) for key in {**was, **now} if was.get(key) != now.get(key)]
    return changed + _new_files(old, new)


def _line(what: str, where: str, was: str, now: str) -> dict[str, str]:
    return {"what": what, "where": where, "was": was, "now": now}


def _statements(piece: Mapping[str, Any]) -> Iterator[tuple[tuple[str, str], str]]:
    verdict = piece["verdict"]
    yield ("Verdict", ""), " ".join(words for words in (verdict["words"] + ".", verdict["range"], verdict["holders"]) if words)
    for check, entry in _entries(piece):
        yield (check, entry["where"]), _entry_words(entry)
    for one in _rows(piece, "readings"):
        yield (one["what"], one["where"]), one["figure"]
    for row in (piece.get("shutter") or {"rows": []})["rows"]:
        yield (f"Shutter at {row['marked']}", ""), f"{row['settled']['time']}, {row['band_words']}" if row["settled"] else row["band_words"]
    for one in _rows(piece, "fit"):
        yield (one["what"], ""), f"{one['figure']}: {one['words']}"
    for one in _rows(piece, "hidden"):
        yield (one["hidden_title"], ""), "left out by the sender"
    if piece.get("depth"):
        yield ("Depth of the holders", ""), piece["depth"]["set_words"]
    for one in _rows(piece, "comes_with"):
        yield ("Comes with it", one["item"]), f"{one['count']}"
    for one in _rows(piece, "lacks"):
        yield ("Not with it", one["item"]), "said"
    for one in _rows(piece, "repairs"):
        yield ("Repair", one["what"]), one["when"]
    for one in _rows(piece, "film_tests"):
        yield ("Film made with it", one["day"]), one["found"]
    for one in _rows(piece, "claims"):
        yield (f"Claim: {one['what']}", one["where"]), f"claimed {one['asserted']}. {one['since']}"


def _rows(piece: Mapping[str, Any], section: str) -> list[dict]:
    return (piece.get(section) or {"list": []})["list"]


def _entries(piece: Mapping[str, Any]) -> Iterator[tuple[str, dict]]:
    """Every finding with its check's title; those of the lines "in order" as plain entries."""
    for group in piece["groups"]:
        for card in group["cards"]:
            for entry in card["entries"]:
                yield card["card_title"], entry
        for said in (group["fine"] or {"said": []})["said"]:
            for row in said["list"]:
                yield row["fine_title"], {"where": row["where"], "outcome": "in_order", "outcome_words": row["words"].partition(DATED)[0], "faults": [], "remark": ""}


def _entry_words(entry: Mapping[str, Any]) -> str:
    faults = "; ".join(one["fault"] for one in entry["faults"])
    return ". ".join(words for words in (entry["outcome_words"] + (f": {faults}" if faults else ""), entry["remark"]) if words)


def _new_files(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[dict[str, str]]:
    lines = []
    for name, section in (("Photos", "all_pictures"), ("Recordings", "recordings")):
        was, now = ({one["hash"] for one in piece[section]} for piece in (old, new))
        if was != now:
            added, gone = len(now - was), len(was - now)
            said = ", ".join(words for words in (f"{added} new" if added else "", f"{gone} of the earlier ones not shown" if gone else "") if words)
            lines.append(_line(name, "", f"{len(was)}", f"{len(now)}: {said}"))
    return lines


def _repaired(old: Mapping[str, Any], new: Mapping[str, Any], version: int) -> Iterator[dict[str, Any]]:
    """A fault that is sound now, with a photo of then and of now where there are any."""
    was = {(check, entry["where"]): entry for check, entry in _entries(old) if entry["outcome"] == "faulty"}
    for n, (check, entry) in enumerate(_entries(new)):
        fault = was.get((check, entry["where"]))
        if fault and entry["outcome"] in SOUND:
            anchor = f"{new['piece_anchor']}-{n}"
            yield {
                "what": check, "where": entry["where"],
                "before": {"words": _entry_words(fault), "picture": _named(_picture(old, check), f"before-{anchor}", f" of version {version}")},
                "after": {"words": _entry_words(entry), "picture": _named(_picture(new, check), f"after-{anchor}", "")},
            }  # fmt: skip


def _picture(piece: Mapping[str, Any], check: str) -> dict | None:
    cards = [card for group in piece["groups"] for card in group["cards"] if card["card_title"] == check and card["pictures"]]
    shown = [one for card in cards for one in card["pictures"]["list"] if not one["missing"]]
    return shown[-1] if shown else None


def _named(picture: dict | None, anchor: str, of: str) -> dict | None:
    """The picture with a name of its own, for the page may show it a second time, and photos of each version count from one.

    A photo of a view from before places in the dark were shown has none; what it was taken beside is not shown here.
    """
    return picture and {"leaks": None, **picture, "beside": "", "anchor": anchor, "number": f"{picture['number']}{of}"}
