"""The clock and the merge under any run of events: what Kulkarni et al. 2014 prove of hybrid logical clocks must hold here.

Their theorem: if e happened before f, then (l.e, c.e) < (l.f, c.f), with send and receive, skewed, frozen and backward clocks.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from barnlight.domain import clock, ids, merge

DEVICES = [f"{number:032x}" for number in range(3)]
# A small range makes equal moments common; the steps are a frozen clock, a slow one, one set back and one far ahead.
walls = st.sampled_from([-5, 0, 1, 2, 1_000_000, 4_000_000_000_000])
events = st.lists(st.tuples(st.sampled_from(range(3)), st.none() | st.sampled_from(range(3)), walls), max_size=40)


@given(events)
@settings(max_examples=300, deadline=None)
def test_stamps_increase_along_every_chain_of_cause_and_effect(run: list[tuple[int, int | None, int]]) -> None:
    last: dict[int, str | None] = dict.fromkeys(range(3))
    made: list[str] = []
    for node, heard_from, wall in run:
        before = last[node]
        heard = last[heard_from] if heard_from is not None else None
        stamp = clock.tick(before, wall, DEVICES[node]) if heard is None else clock.receive(before, heard, wall, DEVICES[node])
        for cause in (before, heard):
            assert cause is None or clock.parse(cause)[:2] < clock.parse(stamp)[:2]
            assert cause is None or cause < stamp, "the order of the text is the order of the clock"
        # Their bound: a clock runs ahead of every wall clock only by what it was told.
        assert clock.parse(stamp)[0] <= max([wall, 0, *(clock.parse(each)[0] for each in made)])
        last[node] = stamp
        made.append(stamp)
    assert len(set(made)) == len(made), "the device breaks ties"


@pytest.mark.parametrize("text", [
    "", "1.2.3", "001800000000000.000000." + "A" * 32, "001800000000000.000000." + "a" * 32 + "\n", "٠01800000000000.000000." + "a" * 32, "-" * 55,
])  # fmt: skip
def test_what_is_no_stamp_is_said_to_be_none(text: str) -> None:
    with pytest.raises(ValueError, match="not a stamp"):
        clock.parse(text)


@pytest.mark.parametrize("text", ["holder", "holder=", "side=a;holder=3", "holder=3;holder=4", "Holder=3", "side=A", "side=a;", "side=a\n", " "])
def test_what_is_no_canonical_place_is_said_to_be_none(text: str) -> None:
    with pytest.raises(ValueError, match="place"):
        ids.parse_place(text)


@given(st.dictionaries(st.from_regex(r"[a-z]{1,4}", fullmatch=True), st.from_regex(r"[a-z0-9_./]{1,5}", fullmatch=True), max_size=4))
def test_places_read_back_as_they_were(axes: dict[str, str]) -> None:
    assert ids.parse_place(ids.place_text(axes)) == axes


@st.composite
def histories(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Changes of one field, each based on any earlier ones, settling any others."""
    made: list[dict[str, Any]] = []
    for number in range(draw(st.integers(0, 7))):
        earlier = [change["id"] for change in made]
        base = draw(st.sampled_from([None, *earlier]))
        settled = draw(st.lists(st.sampled_from(earlier), max_size=2)) if earlier else []
        device = draw(st.sampled_from(DEVICES))
        value = draw(st.sampled_from([1, 1.0, True, None, "1", [1], {"a": 1, "b": 2}, {"b": 2, "a": 1}]))
        made.append({"id": f"{number:x}", "stamp": clock.tick(None, number // 2, device), "value": value, "base": base, "settles": settled})
    return made


@given(histories(), st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_order_of_delivery_says_nothing(history: list[dict[str, Any]], chance: Any) -> None:
    shuffled = chance.sample(history, len(history))
    assert [change["id"] for change in merge.leaves(shuffled)] == [change["id"] for change in merge.leaves(history)]
    shown, again = merge.versions(history), merge.versions(shuffled)
    assert shown == again
    assert (len(shown) >= 1) == (len(history) >= 1)
    for change in shown:
        others = [other for other in shown if other is not change]
        assert all(merge.wins(change, other) != merge.wins(other, change) for other in others), "one of two always wins"


def test_an_unseen_overwrite_is_flagged_and_only_that() -> None:
    first = {"id": "1", "stamp": "1", "value": "worn", "base": None, "settles": []}
    seen = {"id": "2", "stamp": "2", "value": "faulty", "base": "1", "settles": []}
    unseen = {"id": "3", "stamp": "3", "value": "in order", "base": "1", "settles": []}
    picked = {"id": "4", "stamp": "4", "value": "faulty", "base": "3", "settles": ["2"]}
    assert [len(merge.versions(some)) for some in ([first], [first, seen], [first, seen, unseen], [first, seen, unseen, picked])] == [1, 1, 2, 1]
