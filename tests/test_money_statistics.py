"""Waiting, prices, sellers and sums of costs against published examples, reference libraries and a simulation."""

from __future__ import annotations

import math
from datetime import date, timedelta

import numpy as np
import pymannkendall
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from lifelines import KaplanMeierFitter
from lifelines.utils import median_survival_times
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from barnlight.catalogue import load
from barnlight.domain.cost_total import QUANTILES, distribution, mean_of, quantile, variance_of
from barnlight.domain.deal_sheet import deal_sheet
from barnlight.domain.intervals import beta_interval, median_interval, weighted_quantile, wilson
from barnlight.domain.price_baseline import baseline
from barnlight.domain.price_trend import DAYS_A_YEAR, trend
from barnlight.domain.seller_fairness import fairness, usual
from barnlight.domain.waiting import chance_within, median_wait, survival

waits = some.lists(some.tuples(some.integers(1, 60), some.booleans()), min_size=1, max_size=40)
amounts = some.tuples(some.integers(0, 900), some.integers(0, 900), some.integers(0, 900), some.sampled_from([0.05, 0.2, 0.5, 1.0]))


def sales(prices: list[float], days: list[date]) -> list[dict]:
    return [{"price": {"minor": price, "currency": "EUR"}, "day": day.isoformat(), "sold": True} for price, day in zip(prices, days, strict=True)]


@settings(deadline=None)
@given(waits)
def test_the_survival_curve_is_that_of_the_reference_library(found: list[tuple[int, bool]]) -> None:
    """Source: lifelines, KaplanMeierFitter, whose interval is on the scale of log(-log)."""
    steps = survival([{"weeks": weeks, "found": event} for weeks, event in found])
    if not steps:
        return
    fitted = KaplanMeierFitter().fit([weeks for weeks, _ in found], [event for _, event in found])
    for step in steps:
        assert step["still"] == pytest.approx(float(fitted.predict(step["weeks"])), abs=1e-9)
        if 0 < step["still"] < 1:
            low, high = fitted.confidence_interval_.loc[step["weeks"]]
            assert (step["low"], step["high"]) == (pytest.approx(low, abs=1e-9), pytest.approx(high, abs=1e-9))
    median = median_wait(steps)["weeks"]
    # Where exactly a half is left, the library's last digit decides; here it is the first time with a half or less.
    if all(abs(step["still"] - 0.5) > 1e-9 for step in steps):
        assert (math.inf if median is None else median) == fitted.median_survival_time_


def test_the_median_wait_of_the_published_trial_and_its_interval() -> None:
    """Source: Freireich et al., Blood 21:699, 1963 (figures): median 23 weeks; the interval as lifelines gives it."""
    events, watched = [6, 6, 6, 7, 10, 13, 16, 22, 23], [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
    steps = survival([{"weeks": weeks, "found": True} for weeks in events] + [{"weeks": weeks, "found": False} for weeks in watched])
    fitted = KaplanMeierFitter().fit(events + watched, [True] * len(events) + [False] * len(watched))
    low, high = median_survival_times(fitted.confidence_interval_).iloc[0]
    assert median_wait(steps) == {"weeks": 23, "low": low, "high": None} and math.isinf(high)
    placebo = survival([{"weeks": weeks, "found": True} for weeks in (1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23)])
    assert chance_within(placebo, 10)["chance"] == pytest.approx(1 - 8 / 21)


@settings(deadline=None)
@given(some.integers(1, 400).flatmap(lambda of: some.tuples(some.integers(0, of), some.just(of))))
def test_a_share_has_the_interval_of_the_reference_library(trials: tuple[int, int]) -> None:
    """Source: statsmodels, proportion_confint, method "wilson"."""
    found = wilson(*trials)
    low, high = proportion_confint(*trials, method="wilson")
    assert (found["low"], found["high"]) == (pytest.approx(low, abs=1e-9), pytest.approx(high, abs=1e-9))


@settings(deadline=None)
@given(some.lists(some.integers(1, 10**7), min_size=1, max_size=60))
def test_the_middle_of_equal_weights_is_the_median_and_its_interval_is_honest(values: list[int]) -> None:
    """Source: numpy's median; the binomial distribution for the coverage."""
    assert weighted_quantile(values, [1.0] * len(values), 0.5) == np.median(values)
    span = median_interval(values)
    assert span["low"] <= np.median(values) <= span["high"]
    ranks = sorted(values)
    at = ranks.index(span["low"])
    assert span["coverage"] <= 1 - 2 * stats.binom.cdf(at if len(values) > 2 else 0, len(values), 0.5) + 1e-9 or len(set(values)) < len(values)


def test_the_trend_is_the_reference_librarys_slope_of_the_logarithm() -> None:
    """Source: pymannkendall's Sen slope for the middle; scipy.stats.theilslopes for the interval."""
    rng = np.random.default_rng(7)
    days = [date(2020, 1, 1) + timedelta(days=365 * n) for n in range(7)]
    prices = [round(20000 * math.exp(0.08 * n + 0.03 * rng.normal())) for n in range(7)]
    found = trend(sales(prices, days), "EUR")
    per_step = pymannkendall.sens_slope([math.log(price) for price in prices]).slope
    assert math.log1p(found["per_year"]) == pytest.approx(per_step * DAYS_A_YEAR / 365, rel=2e-3)
    low, high = stats.theilslopes([math.log(price) for price in prices], [day.toordinal() / DAYS_A_YEAR for day in days])[2:]
    assert (math.log1p(found["low"]), math.log1p(found["high"])) == (pytest.approx(low), pytest.approx(high))
    assert found["word"] == "rising"


def test_sens_slope_of_the_published_worked_example() -> None:
    """Source: a college worked example (figures, statistics): slope .566667 a step. Prices are its exponentials, a step is a year."""
    series = [12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11.0, 17.3, 15.9, 19.0, 18.3, 20.1, 21.7]
    days = [date.fromordinal(700000 + round(n * DAYS_A_YEAR * 4)) for n in range(len(series))]
    found = trend(sales([math.exp(value) for value in series], days), "EUR")
    assert math.log1p(found["per_year"]) * 4 == pytest.approx(0.566667, abs=2e-4) and found["word"] == "rising"


def test_a_half_life_makes_newer_sales_weigh_more() -> None:
    """Arithmetic: two old sales at 100 of weight 1/16 each, one of today at 200 of weight 1."""
    notes = sales([100, 100, 200], [date(2018, 11, 25), date(2018, 11, 25), date(2026, 11, 25)])
    assert baseline(notes, "EUR", "2026-11-25", 730)["median_minor"] == 200
    assert baseline(notes, "EUR", "2026-11-25", None)["median_minor"] == 100


def test_one_good_dealing_does_not_outrank_twenty() -> None:
    """Source: scipy.stats.beta for the interval; handbook 8 for the order."""
    prior = usual([], "fair")
    one, twenty = fairness(1, 1, prior), fairness(19, 20, prior)
    assert twenty["low"] > one["low"]
    a = prior["share"] * prior["weight"] + 19
    assert (twenty["low"], twenty["high"]) == tuple(pytest.approx(stats.beta.ppf(tail, a, 24 - a)) for tail in (0.025, 0.975))
    assert beta_interval(438, 544)["mean"] == pytest.approx(0.446029, abs=1e-6)


@settings(deadline=None)
@given(some.lists(amounts, min_size=1, max_size=6))
def test_the_sum_of_uncertain_costs_has_the_mean_of_its_parts(given_amounts: list[tuple]) -> None:
    parts = [dict(zip(("low", "likely", "high"), sorted(one[:3]), strict=True)) | {"chance": one[3]} for one in given_amounts]
    found = distribution(parts)
    points = found["start"] + found["step"] * np.arange(len(found["masses"]))
    assert sum(found["masses"]) == pytest.approx(1)
    assert np.dot(points, found["masses"]) == pytest.approx(sum(mean_of(part) for part in parts), abs=1e-6 * max(1, points[-1]))


def test_a_simulation_of_the_costs_agrees() -> None:
    """Source: numpy's triangular draws, 400,000 of them; the sampling error of a quantile here is below 0.5."""
    parts = [
        {"low": 70, "likely": 110, "high": 180, "chance": 1}, {"low": 80, "likely": 150, "high": 300, "chance": 0.4},
        {"low": 0, "likely": 0, "high": 60, "chance": 0.2}, {"low": -520, "likely": -400, "high": -300, "chance": 1},
    ]  # fmt: skip
    rng, n = np.random.default_rng(11), 400_000
    drawn = sum((rng.random(n) < part["chance"]) * rng.triangular(part["low"], part["likely"], part["high"], n) for part in parts)
    found = distribution(parts)
    for share in QUANTILES.values():
        assert quantile(found, share) == pytest.approx(float(np.quantile(drawn, share)), abs=1.5)
    assert sum(variance_of(part) for part in parts) == pytest.approx(float(np.var(drawn)), rel=0.01)


DEAL = {
    "currency": "EUR", "value": {"low_minor": 30000, "likely_minor": 40000, "high_minor": 52000}, "asking_minor": 20000, "resale": False, "week_minor": 0,
    "premium": 0.0, "tax": 0.0, "fees": 0.0, "freight_minor": 0, "travel_minor": 0, "margin_minor": 0,
}  # fmt: skip
LENS = {"kind": "lens", "type": "in_shutter", "shutter_kind": "geared_dial_set"}


def answered(outcome: str) -> list[dict]:
    """Every check of the lens answered alike; faulty ones name their first fault."""
    checks = [check for check in load()["checks"] if "lens" in check["kinds"]]
    return [
        {"check": check["id"], "place": "", "result": {"outcome": outcome, "faults": [check["faults"][0]["id"]] if outcome == "faulty" and check["faults"] else []}}
        for check in checks
    ]


def test_a_piece_with_every_look_in_order_is_worth_its_value() -> None:
    """Arithmetic: nothing comes off, so the ceiling is the triangle of the value: its median is 40.76."""
    sheet = deal_sheet(DEAL, LENS, answered("in_order"), load())
    assert sheet["drives"] == [] and sheet["checking"] == [] and not sheet["examples"]
    assert sheet["ceiling"]["middle_minor"] == pytest.approx(52000 - math.sqrt(0.5 * 22000 * 12000), abs=50)


def test_each_remedy_is_charged_once_and_a_premium_lowers_the_price_that_can_be_paid() -> None:
    """Source: handbook 7: the expected cost of each remedy once; arithmetic for the premium and the tax."""
    faulty = deal_sheet(DEAL, LENS, answered("faulty"), load())
    names = [row["id"] for row in faulty["drives"]]
    assert len(names) == len(set(names)) and "shutter_service" in names
    clean, dear = (deal_sheet({**DEAL, "premium": premium, "tax": tax}, LENS, answered("in_order"), load()) for premium, tax in ((0.0, 0.0), (0.25, 0.2)))
    assert dear["ceiling"]["middle_minor"] * 1.5 == pytest.approx(clean["ceiling"]["middle_minor"], abs=2)


def test_one_more_look_is_worth_most_where_it_can_change_the_mind() -> None:
    """Arithmetic: knowing is worth nothing if one would buy either way, or in neither case."""
    looks = [answer for answer in answered("in_order") if answer["check"] != "lens.shutter.speeds"]
    for asking, changes in ((100, False), (33000, True), (90000, False)):
        [row] = deal_sheet({**DEAL, "asking_minor": asking}, LENS, looks, load())["checking"]
        assert row["check"] == "lens.shutter.speeds" and (row["worth_minor"] > 0) == changes, asking
        assert row["moves_minor"] > 0
