"""Deals: no figure of an offer gets into what the seller is shown, and a lot's ceiling agrees with dice."""

import inspect
import re

import numpy as np
import pytest

from barnlight.catalogue import load
from barnlight.domain.deal_lot import deal_lot
from barnlight.domain.deal_sheet import deal_sheet
from barnlight.domain.deal_talk import deal_talk, talk_text
from barnlight.domain.money import show_money

CATALOGUE = load()
LENS = {"kind": "lens", "type": "in_shutter", "shutter_kind": "geared_rim_set"}
TERMS = {"currency": "EUR", "value": {"low_minor": 41_037, "likely_minor": 52_411, "high_minor": 66_013}, "asking_minor": 33_319, "resale": True, "week_minor": 311,
         "premium": 0.21, "tax": 0.07, "fees": 0.13, "freight_minor": 1_723, "travel_minor": 2_917, "margin_minor": 4_133}  # fmt: skip
FAULTY = [
    {"check": check["id"], "place": "", "result": {"outcome": "faulty", "faults": [fault["id"] for fault in check["faults"]]}}
    for check in CATALOGUE["checks"] if "lens" in check["kinds"]
]  # fmt: skip


@pytest.mark.parametrize("many", [0, 3, 5, 20, len(FAULTY)])
def test_no_figure_of_the_offer_is_in_what_the_seller_sees(many: int) -> None:
    answers = FAULTY[:many]
    sheet = deal_sheet(TERMS, LENS, answers, CATALOGUE)
    talk = talk_text(deal_talk(LENS, answers, CATALOGUE), "The lens")
    secrets = [*sheet["ceiling"].values(), sheet["opening_minor"], TERMS["asking_minor"], *TERMS["value"].values(), *(TERMS[name] for name in TERMS if name.endswith("_minor"))]
    told = {re.sub(r"\s", "", amount) for amount in re.findall(r"\d[\d\s.]*(?=\sEUR)", talk)}
    assert bool(told) == bool(many)
    assert told.isdisjoint(re.sub(r"\s|EUR", "", show_money({"minor": minor, "currency": "EUR"})) for minor in secrets if minor)
    assert not re.search(r"ceiling|offer|worth|at most|walk", talk, re.IGNORECASE)


def test_the_talk_is_not_even_handed_a_deal() -> None:
    assert list(inspect.signature(deal_talk).parameters) == ["piece", "answers", "catalogue", "own_costs"]


def test_a_lots_ceiling_agrees_with_dice() -> None:
    """Source: numpy's triangular and binomial draws, 200,000 of them; 1.5 % of the value is what that many leave open."""
    remedies = [{"id": "clean", "title": "Cleaning", "who": "repairer", "weeks": {"low": 1, "high": 3}, "example": True, "charged_per": "piece", "covers": [],
                 "cost": {"currency": "EUR", "low_minor": 3000, "likely_minor": 5000, "high_minor": 12000}}]  # fmt: skip
    checks = [{"id": "x.try", "kinds": ["other"], "types": None, "group": "x", "title": "Try it", "axes": [], "chance": "often", "cost": "low", "seconds": 5, "first": None, "good_up_to": False,
               "faults": [{"id": "stuck", "title": "Stuck", "picture": "stops", "price": "high", "remedy": "clean", "effect_words": "No picture."}]}]  # fmt: skip
    value = {"low_minor": 30_000, "likely_minor": 40_000, "high_minor": 60_000}
    deal = {**TERMS, "value": value, "resale": False}
    faulty = [{"check": "x.try", "place": "", "result": {"outcome": "faulty", "faults": ["stuck"]}}]
    pieces = [{"id": name, "deal": deal, "piece": {"kind": "other"}, "answers": answers} for name, answers in (("seen", faulty), ("unseen", []))]
    lot = deal_lot({**TERMS, "resale": False}, pieces, {"checks": checks, "remedies": remedies})

    dice = np.random.default_rng(7)
    draws = 200_000
    worth = sum(dice.triangular(30_000, 40_000, 60_000, draws) for _ in pieces)
    weeks = dice.triangular(311, 622, 933, draws)
    cleaning = [dice.triangular(3000, 5000, 12000, draws) for _ in pieces]
    left = worth - weeks - cleaning[0] - cleaning[1] * (dice.random(draws) < 0.5) - TERMS["freight_minor"] - TERMS["travel_minor"]
    expected = np.quantile(left, (0.025, 0.5, 0.975)) / (1.21 * 1.07)
    assert list(lot["ceiling"].values()) == pytest.approx(list(expected), abs=0.015 * 80_000)
