"""The leak finder over whole pictures: kept ones as written down, what it must find, what it must refuse, what it must not invent."""

import gzip
import json
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from PIL import Image

from barnlight import catalogue
from barnlight.cli import main
from barnlight.domain.leak_finder import find_leaks
from barnlight.media import RefusedMedia
from barnlight.media.leak_photo import upright_pixels

FOLDER = Path(__file__).parent / "files" / "leaks"
HELD = json.loads((FOLDER / "results.json").read_text("utf-8"))
CONSTANTS = catalogue.load()["leaks"]


def kept(name: str) -> np.ndarray:
    return np.asarray(Image.open(BytesIO(gzip.decompress((FOLDER / name).read_bytes()))).convert("RGB"))


def dark(width: int = 640, height: int = 480, seed: int = 4) -> np.ndarray:
    """A dark room: noise, a paler board, a lamp's opening; no leak."""
    rng = np.random.default_rng(seed)
    level = np.full((height, width), 14.0)
    level[height // 4 : height // 2, width // 8 : width // 3] = 45
    level[height * 3 // 4 : height * 3 // 4 + 60, width // 2 : width // 2 + 80] = 255
    return np.clip(level[..., None] + rng.normal(0, 1.5, (height, width, 3)), 0, 255).astype(np.uint8)


def with_spot(pixels: np.ndarray, x: float, y: float, height: float, sigma: float = 1.3) -> np.ndarray:
    down, across = np.mgrid[: pixels.shape[0], : pixels.shape[1]]
    spot = height * np.exp(-((across - x) ** 2 + (down - y) ** 2) / (2 * sigma * sigma))
    return np.clip(pixels + spot[..., None], 0, 255).astype(np.uint8)


@pytest.mark.parametrize("entry", HELD, ids=lambda entry: entry["file"])
def test_kept_picture_reads_as_written_down(entry):
    result, held = find_leaks(kept(entry["file"]), CONSTANTS), entry["result"]
    assert {**result, "points": None} == {**held, "points": None}
    assert len(result["points"]) == len(held["points"])
    for point, other in zip(result["points"], held["points"], strict=True):
        assert (point["x"], point["y"], point["strength"]) == pytest.approx((other["x"], other["y"], other["strength"]), abs=0.2)


def test_the_kept_pictures_show_every_verdict_and_a_true_leak():
    reasons = {reason for entry in HELD for reason in entry["result"]["reasons"]}
    assert {"black", "too_much_light", "moved"} <= reasons
    for name in ("leak.ppm.gz", "holder.ppm.gz"):
        entry = next(one for one in HELD if one["file"] == name)
        [point] = entry["result"]["points"]
        assert any(abs(x - point["x"]) < 3 and abs(y - point["y"]) < 3 for x, y, seen in entry["true_leaks"] if seen != "invisible")


@settings(max_examples=12, deadline=None)
@given(st.floats(40, 600), st.floats(40, 90), st.floats(60, 200))
def test_a_spot_in_the_dark_is_found_where_it_is(x, y, height):
    found = find_leaks(with_spot(dark(), x, y, height), CONSTANTS)
    assert found["usable"] and len(found["points"]) == 1
    [point] = found["points"]
    assert (point["x"], point["y"]) == pytest.approx((x, y), abs=0.6)
    assert point["kind"] == "spot" and point["box"][0] <= x <= point["box"][2] + 1


def test_coordinates_are_those_of_the_full_picture():
    large = with_spot(dark(2600, 1950), 1900.0, 400.0, 160, sigma=3)
    [point] = find_leaks(large, CONSTANTS)["points"]
    assert (point["x"], point["y"]) == pytest.approx((1900, 400), abs=1)


def test_without_a_spot_nothing_is_found_and_the_limit_is_said():
    found = find_leaks(dark(), CONSTANTS)
    assert found["points"] == [] and found["usable"] and found["limit_code"] >= 8


def test_a_hot_pixel_is_not_a_place():
    pixels = dark()
    pixels[120, 400] = (255, 40, 30)  # one pixel, one colour
    pixels[60, 500] = 255  # one pixel, all colours
    assert find_leaks(pixels, CONSTANTS)["points"] == []


def test_an_edge_of_a_board_is_not_a_place():
    pixels = dark()
    pixels[200, 100:500] = 120
    assert find_leaks(pixels, CONSTANTS)["points"] == []


@pytest.mark.parametrize(("level", "reason"), [(2, "black"), (150, "too_much_light")])
def test_what_cannot_be_judged_is_refused(level, reason):
    pixels = np.clip(np.random.default_rng(1).normal(level, 1, (480, 640, 3)), 0, 255).astype(np.uint8)
    found = find_leaks(pixels, CONSTANTS)
    assert (found["usable"], found["reasons"], found["points"]) == (False, [reason], [])


@pytest.mark.parametrize("size", [(1, 1), (1, 40), (3, 3), (5, 2000), (97, 61)])
def test_a_picture_of_any_size_is_read(size):
    found = find_leaks(np.random.default_rng(2).integers(0, 60, (*size, 3), np.uint8), CONSTANTS)
    assert found["algorithm"] == CONSTANTS["algorithm"]


@pytest.mark.parametrize("pixels", [with_spot(dark(), 300.0, 60.0, 150), dark(), np.zeros((40, 40, 3), np.uint8)])
def test_a_result_fits_the_record_that_keeps_it(pixels):
    records = catalogue.load()["records"]
    schema = {"$defs": records["$defs"], "$ref": "#/$defs/leak_machine"}
    Draft202012Validator(schema).validate({**find_leaks(pixels, CONSTANTS), "catalogue": 1})


@pytest.mark.parametrize("bad", [np.zeros((4, 4), np.uint8), np.zeros((4, 4, 4), np.uint8), np.zeros((4, 4, 3), float), np.zeros((0, 4, 3), np.uint8)])
def test_what_is_no_picture_is_refused(bad):
    with pytest.raises(ValueError, match="red, green and blue"):
        find_leaks(bad, CONSTANTS)


def dark_field(name: str):
    """A public picture of scikit-image (BSD licence): hundreds of true points of light, or bright tissue on black."""
    from skimage import data

    try:
        found = getattr(data, name)()
    except (OSError, ImportError, ValueError) as error:  # scikit-image fetches most of its pictures when first asked
        pytest.skip(f"2026-11-25: {name} is not in the package and could not be fetched: {type(error).__name__}")
    return found if found.ndim == 3 else np.stack([found] * 3, axis=-1)


@pytest.mark.parametrize("name", ["hubble_deep_field", "moon", "camera", "coins", "cell", "human_mitosis", "microaneurysms", "page", "text"])
def test_public_pictures_do_not_crash_it_nor_fill_with_points(name):
    pixels = dark_field(name)
    found = find_leaks(np.ascontiguousarray(pixels[..., :3].astype(np.uint8)), CONSTANTS)
    assert len(found["points"]) < 100


def test_command_prints_json_in_pixels_of_the_upright_picture(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    # Orientation 6 of EXIF (TIFF 6.0, tag 274): the 0th row is the visual right side; a viewer turns it by 90 degrees clockwise.
    upright = with_spot(dark(480, 640), 120.0, 60.0, 180)
    exif = Image.Exif()
    exif[0x0112] = 6
    Image.fromarray(np.rot90(upright).copy()).save(tmp_path / "turned.jpg", quality=95, exif=exif)
    assert main(["leaks", str(tmp_path / "turned.jpg"), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert {"usable", "reasons", "points"} <= found.keys()
    assert (found["points"][0]["x"], found["points"][0]["y"]) == pytest.approx((120, 60), abs=1)
    assert {"x", "y", "box", "kind", "strength"} <= found["points"][0].keys()
    assert main(["leaks", str(tmp_path / "turned.jpg")]) == 0
    assert "levels above its surroundings in this photo" in capsys.readouterr().out


@pytest.mark.parametrize(("data", "said"), [(b"", "not a JPEG"), (b"words", "not a JPEG"), (b"\xff\xd8\xff\xe0 cut", "damaged"), (None, "cannot be read")])
def test_command_says_in_one_sentence_what_is_no_picture(tmp_path: Path, capsys: pytest.CaptureFixture, data, said) -> None:
    path = tmp_path / "file.jpg"
    if data is not None:
        path.write_bytes(data)
    assert main(["leaks", str(path), "--json"]) == 2
    out, error = capsys.readouterr()
    assert out == "" and said in error and len(error.splitlines()) == 1


def test_command_refuses_a_huge_file_before_it_is_read(tmp_path: Path, capsys: pytest.CaptureFixture, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "film.jpg"
    with path.open("wb") as file:
        file.truncate(300 * 1024 * 1024)
    monkeypatch.setattr(Path, "read_bytes", lambda self: pytest.fail("the file was read whole"))
    assert main(["leaks", str(path)]) == 2
    assert "larger than" in capsys.readouterr().err


def test_a_bomb_is_refused_before_it_is_decoded():
    with pytest.raises(RefusedMedia, match="million pixels"):
        upright_pixels((FOLDER.parent / "bomb.png").read_bytes())
