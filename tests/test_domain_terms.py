"""The few words and figures of the catalogue that the pure domain states itself agree with the catalogue."""

from barnlight.catalogue import load
from barnlight.domain import checks, verdict


def values(term: str) -> dict:
    return {entry["id"]: entry["value"] for entry in load()["terms"][term]}


def test_chance_and_cost_are_those_of_the_terms():
    assert values("chances") == checks.CHANCE
    assert values("cost_levels") == checks._COST


def test_places_are_those_of_the_terms():
    """Source: the axes of terms.json (handbook 4: two sides, three lengths, four gaps, five points)."""
    axes = {axis["id"]: [value["id"] for value in axis["values"]] for axis in load()["terms"]["axes"]}
    for axis, expected in axes.items():
        if expected:
            assert checks.places({"axes": [axis]}, {}) == [f"{axis}={value}" for value in expected]
    assert {axis for axis, expected in axes.items() if not expected} == {"holder", "speed"}


def test_effects_are_those_of_the_terms_gravest_first():
    assert [effect["id"] for effect in load()["terms"]["effects"]] == list(verdict._GRAVITY)


def test_short_pass_of_an_untouched_lens_keeps_five_minutes_and_the_order_of_the_trade_notes():
    """Source: trade notes section 3: leave and the cold firing come before any score; five minutes are 300 s."""
    lens = {"kind": "lens", "type": "in_shutter", "shutter_kind": "geared_rim_set"}
    order = checks.short_pass(checks.applicable(lens, load()))
    assert [check["id"] for check in order[:2]] == ["lens.start.leave", "lens.shutter.cold_first"]
    assert {check["id"] for check in order[2:5]} == {"lens.glass.haze", "lens.glass.fungus", "lens.glass.separation"}
    assert 240 < sum(check["seconds"] for check in order) <= 300
