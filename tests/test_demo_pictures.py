"""Demo pictures: same seed same bytes, nothing in the file but the picture, and light where the truth says."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from scipy.ndimage import label, maximum

from barnlight.demo import pictures
from barnlight.demo.pictures import icon

SMALL = (160, 120)
ICONS = Path(__file__).parents[1] / "webapp" / "public" / "icons"
SAMPLES = Path(__file__).parents[1] / "sample_sessions"
REACH_PX = 2.0


@pytest.fixture(scope="module")
def small() -> dict[str, bytes]:
    return {name: pictures.render(name, 7, SMALL) for name in pictures.PICTURES}


def _open(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data))


def test_every_picture_has_its_size_and_is_a_picture(small: dict[str, bytes]) -> None:
    for name, data in small.items():
        image = _open(data)
        assert (image.format, image.mode, image.size) == ("JPEG", "RGB", SMALL), name
        assert np.asarray(image, float).std() > 3, f"{name} is one even tone"


def _segments(data: bytes) -> list[int]:
    """Marker bytes of a JPEG up to the start of the scan (ITU-T T.81, annex B)."""
    found, at = [], 2
    while data[at + 1] != 0xDA:
        assert data[at] == 0xFF
        found.append(data[at + 1])
        at += 2 + int.from_bytes(data[at + 2:at + 4], "big")
    return found


def test_the_file_holds_no_metadata(small: dict[str, bytes]) -> None:
    # T.81 table B.1: E0-EF are application segments (E0 is the bare JFIF head, E1 EXIF or XMP), FE is a comment.
    for name, data in small.items():
        assert [m for m in _segments(data) if 0xE1 <= m <= 0xEF or m == 0xFE] == [], name
        assert len(_open(data).getexif()) == 0, name


def test_the_same_seed_gives_the_same_bytes_and_another_does_not(small: dict[str, bytes]) -> None:
    for name in ("lens_front", "bellows_dark_full"):
        assert pictures.render(name, 7, SMALL) == small[name]
        assert pictures.render(name, 8, SMALL) != small[name]


def test_every_picture_is_described_in_words() -> None:
    assert pictures.SHOWS.keys() == pictures.PICTURES.keys()


def test_the_origin_is_written_into_the_corner() -> None:
    assert pictures.MARK == "made by Barnlight's own code"
    plain = Image.new("RGB", (1600, 1200), (90, 90, 90))
    changed = np.argwhere(np.asarray(pictures.finish.marked(plain)) != 90)
    top, left = changed[:, :2].min(axis=0)
    low, right = changed[:, :2].max(axis=0)
    assert left < 40 and low > 1200 - 40, "in the lower left corner"
    assert right - left > 120 and 8 < low - top < 40, "small, but wide enough to be the words"


def test_an_unknown_name_is_an_error() -> None:
    with pytest.raises(KeyError):
        pictures.render("no_such_picture", 1, SMALL)


@pytest.mark.parametrize(("name", "count"), [("bellows_dark_middle", 2), ("bellows_dark_full", 4)])
def test_light_comes_through_where_the_truth_says_and_nowhere_else(name: str, count: int) -> None:
    size = (640, 480)
    truth = pictures.leak_truth(name, 11)
    assert len(truth) == count
    light = np.asarray(_open(pictures.render(name, 11, size)).convert("L"), float)
    light[-40:, :300] = 0   # the words of origin
    spots, found = label(light > 140)
    assert found == count
    for leak in truth:
        x, y = leak.x * size[0] - 0.5, leak.y * size[1] - 0.5
        near = [k for k in range(1, found + 1) if np.hypot(*(np.mean(np.nonzero(spots == k), axis=1) - (y, x))) < REACH_PX]
        assert len(near) == 1, f"{leak} has {len(near)} bright spots within {REACH_PX} px"
        assert maximum(light, spots, near[0]) > 200


def test_full_pictures_are_small_enough_to_send() -> None:
    # Those of the sample sessions, made by the same code: drawing one anew takes the better part of a minute.
    files = list(SAMPLES.glob("*/media/*.jpg"))
    assert files
    for path in files:
        assert path.stat().st_size <= pictures.LARGEST_BYTES, path
        assert _open(path.read_bytes()).size == pictures.SIZE


def test_the_icon_files_are_those_the_code_draws(tmp_path: Path) -> None:
    icon.write(tmp_path)
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == ["apple-touch-180.png", "favicon.svg", "icon-192.png", "icon-512.png", "maskable-512.png"]
    assert (ICONS / "favicon.svg").read_text(encoding="utf-8") == (tmp_path / "favicon.svg").read_text(encoding="utf-8")
    for name in names:
        if name.endswith(".png"):
            drawn, kept = (np.asarray(_open((folder / name).read_bytes()), int) for folder in (tmp_path, ICONS))
            assert drawn.shape == kept.shape == (int(name.split("-")[-1][:3]),) * 2 + (3,)
            assert np.abs(drawn - kept).max() <= 8, "small differences between versions of the resampler are no matter"


def test_a_round_mask_cuts_nothing_off_the_maskable_icon() -> None:
    # W3C Web Application Manifest, "icon masks and safe zone": a circle of radius 2/5 of the icon's size.
    picture = np.asarray(icon.png(512, inset=icon.MASK_INSET), int)
    y, x = np.mgrid[0:512, 0:512] - 255.5
    outside = np.hypot(x, y) > 0.4 * 512
    lit = np.abs(picture - np.array([0x17, 0x13, 0x0E])).max(axis=-1) > 40
    assert not (lit & outside).any()
