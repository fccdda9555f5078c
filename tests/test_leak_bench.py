"""What the leak benchmark counts, and that its simulated photos are what they say."""

import io

import numpy as np
import pytest
from PIL import Image

from barnlight.bench import leaks, leaks_libraries
from barnlight.bench.leaks_figures import Leak, Tally, Truth, found_share, rate, tally
from barnlight.demo import leak_ranges
from barnlight.demo.leak_picture import picture

SMALL = (320, 240)


def truth(leaks: list[Leak], reflections: list[list[float]] | None = None) -> Truth:
    return Truth((1000, 800), "bellows", None, leaks, reflections or [])


def point(x: float, y: float, seen_as: str = "visible") -> Leak:
    return Leak("pinhole", [(x, y, x, y)], seen_as, 30)


def test_a_point_counts_within_six_thousandths_of_the_long_edge():
    counted = tally(truth([point(100, 100), point(500, 500)]), [(105.9, 100), (506.1, 500)])
    assert (list(counted.found), counted.false) == ([True, False], 1)


def test_a_slit_counts_along_its_whole_line():
    slit = Leak("slit", [(100, 100, 200, 100)], "visible", 30)
    counted = tally(truth([slit]), [(150, 104), (207, 100)])
    assert (list(counted.found), counted.false) == ([True], 1)


def test_points_on_faint_leaks_and_reflections_are_not_false():
    counted = tally(truth([point(100, 100, "invisible")], [[400, 400, 440, 420]]), [(101, 100), (443, 421), (600, 600)])
    assert (counted.false, counted.on_reflections) == (1, 1)
    assert found_share([counted], lambda leak: leak.seen_as == "visible").of == 0


def test_rate_has_the_interval_of_its_count():
    """Source: exact 95 % Poisson limits of 3 events are 0.619 and 8.77 (Garwood 1936, as tabled)."""
    tallies = [Tally(truth([]), [], false, 0, True, []) for false in (3, 0, 0, 0, 0, 0, 0, 0, 0, 0)]
    assert rate(tallies, lambda one: one.false).startswith("0.30 (0.06-0.88) a picture")


def test_the_same_seed_is_the_same_photo_and_another_is_another():
    one, again, other = (picture(seed, size=SMALL) for seed in (5, 5, 6))
    assert one.jpeg == again.jpeg and one.leaks == again.leaks
    assert one.jpeg != other.jpeg
    assert Image.open(io.BytesIO(one.jpeg)).size == SMALL


@pytest.mark.parametrize("kind", leak_ranges.SCENES)
def test_a_visible_leak_is_bright_where_it_is_said_to_be(kind):
    seen = []
    for seed in range(40, 48):
        photo = picture(seed, size=SMALL, kind=kind, spoilt=None)
        level = np.asarray(Image.open(io.BytesIO(photo.jpeg)).convert("L"), float)
        for leak in photo.leaks:
            if leak.seen_as == "visible" and leak.shape == "pinhole":
                x, y = int(leak.x), int(leak.y)
                near = level[max(0, y - 2) : y + 3, max(0, x - 2) : x + 3].max()
                around = np.median(level[max(0, y - 12) : y + 13, max(0, x - 12) : x + 13])
                seen.append(near - around)
    assert all(over >= 8 for over in seen)


def test_spoilt_photos_are_spoilt():
    black = np.asarray(Image.open(io.BytesIO(picture(5, size=SMALL, kind="bellows", spoilt="black").jpeg)).convert("L"))
    bright = np.asarray(Image.open(io.BytesIO(picture(5, size=SMALL, kind="bellows", spoilt="room_light").jpeg)).convert("L"))
    assert np.median(black) < 10 and np.quantile(bright, 0.75) > 75


def test_general_methods_find_a_plain_spot():
    pixels = np.full((240, 320, 3), 10, np.uint8)
    pixels[100:104, 200:204] = 220
    for name in ("threshold 100 + label", "median + 10 MAD + label"):
        [(x, y)] = leaks_libraries.places(leaks_libraries.finders()[name], pixels)
        assert (x, y) == pytest.approx((201.5, 101.5), abs=0.6)


def test_tuning_seeds_are_not_judged_with(monkeypatch, capsys):
    monkeypatch.setattr("sys.argv", ["leaks", "--seeds", "1-3"])
    with pytest.raises(SystemExit):
        leaks.main()
    assert "for tuning" in capsys.readouterr().err
