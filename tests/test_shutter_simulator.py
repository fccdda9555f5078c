"""The simulator of shutter sounds keeps its own word: times, noise and clock are as its truth says."""

import numpy as np
import pytest

from barnlight.demo.shutter_sound import Scene, one_firing, recording


def rng(seed: int = 3) -> np.random.Generator:
    return np.random.default_rng(seed)


def test_the_same_seed_gives_the_same_sound():
    first, second = (one_firing(rng(), open_time_s=0.02)[0] for _ in range(2))
    assert np.array_equal(first, second)
    assert not np.array_equal(first, one_firing(rng(4), open_time_s=0.02)[0])


def test_truth_holds_each_firing_in_order():
    samples, rate_hz, truth = recording(rng(), open_times_s=[0.02, 0.5, 0.004])
    assert [firing["open_time_s"] for firing in truth.firings] == pytest.approx([0.02, 0.5, 0.004])
    assert all(later["open_s"] > earlier["close_s"] for earlier, later in zip(truth.firings, truth.firings[1:], strict=False))
    assert truth.firings[-1]["close_s"] < len(samples) / rate_hz
    assert abs(truth.clock_ppm) <= 80


@pytest.mark.parametrize("rate_hz", [16_000, 44_100, 96_000])
def test_the_close_impact_begins_where_the_truth_says(rate_hz):
    # Without noise worth naming, the energy of half a millisecond jumps tenfold at the closing.
    samples, rate_hz, truth = one_firing(rng(8), open_time_s=0.2, scene=Scene(snr_db=60, rate_hz=rate_hz))
    at = round(truth.firings[0]["close_s"] * rate_hz * (1 + truth.clock_ppm * 1e-6))
    half_ms = rate_hz // 2000
    assert np.mean(samples[at + half_ms : at + 3 * half_ms] ** 2) > 10 * np.mean(samples[at - 3 * half_ms : at - half_ms] ** 2)


def test_samples_stay_within_full_scale_and_noise_follows_the_ratio():
    levels = {}
    for snr_db in (10, 40):
        samples, rate_hz, _ = one_firing(rng(5), open_time_s=0.02, scene=Scene(snr_db=snr_db))
        assert np.max(np.abs(samples)) <= 0.7
        before = samples[: round(0.3 * rate_hz)]
        levels[snr_db] = 20 * np.log10(np.std(np.diff(before)) / np.max(np.abs(samples)))
    assert levels[10] - levels[40] == pytest.approx(30, abs=6)


def test_cocking_and_knocks_are_heard_only_when_asked_for():
    def loudest_before(scene: Scene) -> float:
        samples, rate_hz, _ = one_firing(rng(6), open_time_s=0.02, scene=scene)
        return float(np.max(np.abs(samples[: round(0.46 * rate_hz)])))

    assert loudest_before(Scene(cocking=True)) > 5 * loudest_before(Scene())


def test_a_room_without_a_firing_has_no_truth():
    samples, _, truth = recording(rng(), open_times_s=[])
    assert truth.firings == [] and len(samples) > 0
