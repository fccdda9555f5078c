"""Steps of the timing engine against reference libraries: filter, percentile, click placing, added level."""

import numpy as np
import pytest
from jsonschema import Draft202012Validator
from scipy import signal as reference

from barnlight import catalogue
from barnlight.domain import shutter_candidates, shutter_pairs, shutter_signal

CONSTANTS = catalogue.load()["shutter_timing"]
RATE_HZ = 48_000


def noise(seconds: float, level: float = 1e-3) -> np.ndarray:
    return np.random.default_rng(5).normal(0, level, round(seconds * RATE_HZ))


def with_click(samples: np.ndarray, at: int, level: float = 0.3) -> np.ndarray:
    """A click whose first moved sample is `at`: 5 kHz decaying within a millisecond."""
    after = np.arange(480) / RATE_HZ
    samples[at : at + 480] += level * np.exp(-after / 0.0008) * np.cos(2 * np.pi * 5_000 * after)
    return samples


@pytest.mark.parametrize("rate_hz", [8_000, 44_100, 48_000, 192_000])
def test_high_pass_is_butterworths(rate_hz):
    # Reference: scipy.signal.butter, the published second-order Butterworth by bilinear transform.
    b, a = reference.butter(2, 2_000, "highpass", fs=rate_hz)
    own_b, own_a = shutter_signal.highpass_coefficients(2_000, CONSTANTS["highpass"]["q"], rate_hz)
    assert own_b == pytest.approx(b, rel=1e-12)
    assert own_a == pytest.approx(a, rel=1e-12)


def test_energy_sum_is_the_energy_of_the_filtered_sound():
    samples = noise(0.2)
    prepared = shutter_signal.prepare(samples, RATE_HZ, CONSTANTS)
    passed = reference.sosfilt(reference.butter(2, 2_000, "highpass", fs=RATE_HZ, output="sos"), samples - samples.mean())
    assert prepared.energy_sum[-1] == pytest.approx(np.sum(passed**2), rel=1e-9)
    frames = np.mean(passed[: len(passed) // 480 * 480].reshape(-1, 480) ** 2, axis=1)
    # Reference: scipy.stats' default percentile is the one that interpolates linearly.
    assert prepared.floor == pytest.approx(np.quantile(frames, 0.2, method="linear"), rel=1e-9)


def test_a_click_in_noise_is_placed_to_a_tenth_of_a_millisecond():
    prepared = shutter_signal.prepare(with_click(noise(0.5), 9_601), RATE_HZ, CONSTANTS)
    clicks = shutter_candidates.find_clicks(prepared, CONSTANTS)
    assert len(clicks.at) == 1
    assert clicks.at[0] == pytest.approx(9_601, abs=5)
    # 0.3 amplitude over 0.5 ms against 1e-3 noise is some 40 dB.
    assert 30 < clicks.level_db[0] < 50


def test_a_weak_click_before_a_loud_one_keeps_its_own_level():
    samples = with_click(with_click(noise(0.5), 9_600, 0.02), 9_662, 0.5)
    prepared = shutter_signal.prepare(samples, RATE_HZ, CONSTANTS)
    weak, loud = shutter_candidates.find_clicks(prepared, CONSTANTS).level_db
    assert loud - weak > 20


def test_clicks_scale_with_the_rate():
    at_s = []
    for rate_hz in (16_000, 44_100, 96_000):
        after = np.arange(round(0.01 * rate_hz)) / rate_hz
        samples = np.random.default_rng(6).normal(0, 1e-3, rate_hz // 2)
        start = round(0.2 * rate_hz)
        samples[start : start + len(after)] += 0.3 * np.exp(-after / 0.0008) * np.cos(2 * np.pi * 4_000 * after)
        prepared = shutter_signal.prepare(samples, rate_hz, CONSTANTS)
        at_s += (shutter_candidates.find_clicks(prepared, CONSTANTS).at / rate_hz).tolist()
    assert at_s == pytest.approx([0.2, 0.2, 0.2], abs=2e-4)


def test_too_few_samples_a_second_are_refused():
    with pytest.raises(ValueError, match="at least 8000"):
        shutter_signal.prepare(noise(0.1), 7_999, CONSTANTS)


def test_constants_fit_their_schema():
    schema = catalogue.read("schema/shutter_timing.schema.json")
    Draft202012Validator.check_schema(schema)
    assert [error.message for error in Draft202012Validator(schema).iter_errors(CONSTANTS)] == []
    assert not Draft202012Validator(schema).is_valid({**CONSTANTS, "jump": {**CONSTANTS["jump"], "hop_ms": 0}})


def test_every_feature_has_a_weight_and_every_weight_a_feature():
    samples = with_click(with_click(noise(0.5), 9_600), 12_000, 0.4)
    prepared = shutter_signal.prepare(samples, RATE_HZ, CONSTANTS)
    clicks = shutter_candidates.find_clicks(prepared, CONSTANTS)
    one = np.array([0]), np.array([1])
    for marked_s, weights in ((0.05, "marked"), (None, "unmarked")):
        features = shutter_pairs.features(prepared, clicks, *one, marked_s, CONSTANTS["features"])
        for named in CONSTANTS["weights"][weights].values():
            assert set(features) | {"bias"} == {part for name in named for part in name.split("*")}
        assert all(np.isfinite(value).all() for value in features.values())
