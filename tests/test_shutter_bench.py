"""The benchmark's own arithmetic and material: uncertainty, seeds kept apart, hard recordings that keep their word."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import binomtest

from barnlight import catalogue
from barnlight.bench import shutter, shutter_fit
from barnlight.bench.shutter_figures import Share, reading, singles
from barnlight.bench.shutter_recordings import JUDGING_FROM, KINDS, TRAINS, case, sound
from barnlight.demo.shutter_chatter import TALKS, talk
from barnlight.demo.shutter_ranges import HOME, MARKS_S, UNLIKE, Flat
from barnlight.demo.shutter_study import study_recording, true_time_s
from barnlight.demo.shutter_talk import NO_FIRING, no_firing
from barnlight.domain.shutter_timing import read

CONSTANTS = catalogue.load()["shutter_timing"]


@pytest.mark.parametrize(("hits", "of"), [(0, 20), (20, 20), (97, 100), (1, 3), (540, 1000)])
def test_the_uncertainty_of_a_share_is_wilsons(hits, of):
    # Reference: scipy.stats.binomtest, Wilson score interval without continuity correction.
    reference = binomtest(hits, of).proportion_ci(0.95, method="wilson")
    assert Share(hits, of).limits() == pytest.approx((reference.low, reference.high), abs=1e-9)


def test_a_share_of_nothing_says_nothing():
    assert Share(0, 0).limits() == (0, 1)
    assert "of 0" in str(Share(0, 0))


def test_tuning_and_judging_seeds_are_apart():
    assert max(seed for seeds, _, _ in shutter_fit.PLAN.values() for seed in seeds) < JUDGING_FROM
    assert shutter.seeds_of("101-103,110") == [101, 102, 103, 110]


def test_judging_by_tuning_seeds_is_refused(monkeypatch, capsys):
    monkeypatch.setattr("sys.argv", ["shutter", "--seeds", "2"])
    with pytest.raises(SystemExit) as ended:
        shutter.main()
    assert ended.value.code == 2 and "tuning" in capsys.readouterr().err


@pytest.mark.parametrize("kind", KINDS)
def test_a_seed_gives_the_same_recording_for_ever(kind):
    first, second = (sound(kind, 300, 3) for _ in range(2))
    assert np.array_equal(first[0], second[0]) and first[2] == second[2]
    assert not np.array_equal(first[0], sound(kind, 301, 3)[0])
    assert np.max(np.abs(first[0])) <= 1


def test_truth_lies_where_the_sound_jumps():
    quiet = replace(HOME, cocking_share=0, set_down_share=0, thuds_share=0, babble_share=0, codec_share=0, agc_share=0, clipping_share=0,
                    direct_over_room_db=Flat(18, 18.1))  # fmt: skip
    samples, rate_hz, truth = study_recording(np.random.default_rng(9), open_times_s=[0.2, 0.2], snr_db=50, ranges=quiet)
    for firing in truth.firings:
        at = round(firing["close_s"] * rate_hz * (1 + truth.clock_ppm * 1e-6))
        half_ms = rate_hz // 2000
        assert np.mean(samples[at + half_ms : at + 3 * half_ms] ** 2) > 4 * np.mean(samples[at - 3 * half_ms : at - half_ms] ** 2)


def test_most_shutters_are_near_their_mark_and_some_are_far():
    rng = np.random.default_rng(4)
    off = np.array([np.log2(true_time_s(rng, 0.02) / 0.02) for _ in range(2000)])
    assert abs(np.median(off)) < 0.15
    assert 0.05 < np.mean(off > 0.4) < 0.2 and 0.01 < np.mean(off < -0.3) < 0.06


def test_every_range_is_printed_and_unlike_differs_in_the_shutter_only():
    assert len(HOME.lines()) == len(UNLIKE.lines()) > 30
    changed = [line.split(":")[0] for line in UNLIKE.lines() if line not in HOME.lines()]
    assert changed == ["open_db", "release_db", "release_ahead_ms", "ticks_db"]
    assert len(MARKS_S) == 10


@pytest.mark.parametrize("kind", NO_FIRING)
def test_what_is_no_shutter_has_the_sound_it_should(kind):
    samples = no_firing(np.random.default_rng(1), kind)
    assert np.isfinite(samples).all() and np.max(np.abs(samples)) <= 1.01
    assert (np.max(np.abs(samples)) > 0.01) == (kind != "silence")


@pytest.mark.parametrize("kind", TALKS)
def test_talk_has_sound_and_is_never_clear(kind):
    samples = talk(np.random.default_rng(2), kind)
    assert np.isfinite(samples).all() and 0.01 < np.max(np.abs(samples)) <= 1
    results = [read(one.heard, one.marked_s, CONSTANTS) for one in (case("talk", 301, 10 * TALKS.index(kind) + index) for index in range(3))]
    assert all(result["verdict"] != "clear" for result in results)


def test_a_train_that_stalls_sounds_uneven_more_often_than_an_even_one():
    heard = {kind: [read(one.heard, one.marked_s, CONSTANTS)["buzz"] for one in (case(kind, 302, index) for index in range(12))] for kind in TRAINS}
    uneven = {kind: sum(one["uneven"] for one in found if one) for kind, found in heard.items()}
    assert uneven["even train"] <= 1 < uneven["stalled train"]


def test_a_case_is_read_and_counted():
    found = [reading(one, read(one.heard, one.marked_s, CONSTANTS)) for one in (case("one", 300, index) for index in range(8))]
    shares = singles(found)
    assert shares["answered"].of == 8 and shares["clear"].hits <= shares["answered"].hits
    assert all(one.off_stops < 1 / 3 for one in found if one.clear)
