"""The catalogue's figures equal published ones, typed here again from their sources."""

from math import isclose, log2

import pytest

from barnlight import catalogue

DATA = catalogue.load()
STANDARDS = {standard["id"]: standard for standard in DATA["standards"]}
MM_PER_INCH = 25.4

# American National Standard for lock-rib double holders (ASA Z38.1.51-1951, later ANSI/PIMA IT3.108-1998) as quoted, May 2002:
# format, depth and tolerance in inches and in mm, and how sure the quotation is.
HOLDER_DEPTHS = [("4x5", 0.197, 0.007, 5.004, 0.178, "fair"), ("5x7", 0.228, 0.010, 5.791, 0.254, "fair"), ("8x10", 0.260, 0.016, 6.604, 0.406, "weak")]
# Two published tables of board holes for leaf shutters, agreeing within 0.2 mm (sizes 00 and 2: one table).
BOARD_HOLES = {"00": (26.3, "fair"), "0": (34.6, "sure"), "1": (41.6, "sure"), "2": (52.5, "fair"), "3": (65.0, "sure")}
# Outer sizes of 4x5 and 5x7 holders, rounded, same standard as quoted (weak): length, width, thickness, rib from the loading end, mm.
OUTER_SIZES = {"4x5": (160, 121, 13.2, 141), "5x7": (214, 150, 14.3, 194.5)}
# Nominal diagonals in mm: exact arithmetic from inches.
DIAGONALS = {"4x5": 162.6, "5x7": 218.5, "8x10": 325.3, "11x14": 452.2}
# Circle of confusion = diagonal / 1750, mm: a published hyperfocal table reproduced to 0.01 m.
CIRCLES = {"4x5": 0.0929, "5x7": 0.1249, "8x10": 0.1859}


@pytest.mark.parametrize(("fmt", "depth_in", "give_in", "depth_mm", "give_mm", "sureness"), HOLDER_DEPTHS)
def test_holder_depth(fmt, depth_in, give_in, depth_mm, give_mm, sureness):
    entry = STANDARDS[f"holder_depth.{fmt}"]
    assert (entry["value"], entry["tolerance"], entry["unit"], entry["sureness"]) == (depth_mm, give_mm, "mm", sureness)
    assert entry["inch"] == {"value": depth_in, "tolerance": give_in}
    assert isclose(depth_in * MM_PER_INCH, depth_mm, abs_tol=0.0006)
    assert isclose(give_in * MM_PER_INCH, give_mm, abs_tol=0.0006)
    # The depth runs to the divider, so it says something only of holders that register there (handbook 4).
    assert entry["applies"] == {"format": fmt, "registers_on": "divider"}


def test_only_published_depths_are_claimed():
    claimed = {fmt["id"] for fmt in DATA["formats"] if fmt["has_published_depth"]}
    assert claimed == {row[0] for row in HOLDER_DEPTHS}
    assert claimed == {entry["applies"]["format"] for entry in DATA["standards"] if entry["quantity"] == "holder_depth"}


def test_film_and_slot():
    # Film slot 0.012 in: the same standard as quoted, fair. Film 7 mil, 0.004-0.010 in: film data sheets, sure.
    assert STANDARDS["film_slot.sheet"]["value"] == 0.305
    assert STANDARDS["film_thickness.usual"]["value"] == 0.18
    assert (STANDARDS["film_thickness.thinnest"]["inch"]["value"], STANDARDS["film_thickness.thickest"]["inch"]["value"]) == (0.004, 0.010)
    # Arithmetic: emulsion of 7-mil film on the divider of a standard 4x5 holder at 0.190 in = 4.826 mm.
    assert isclose(0.197 - 0.007, STANDARDS["emulsion_depth.4x5"]["inch"]["value"])
    assert isclose(0.190 * MM_PER_INCH, STANDARDS["emulsion_depth.4x5"]["value"], abs_tol=1e-9)


@pytest.mark.parametrize(("size", "hole", "sureness"), [(size, *row) for size, row in BOARD_HOLES.items()])
def test_board_holes(size, hole, sureness):
    entry = STANDARDS[f"board_hole.{size}"]
    assert (entry["value"], entry["sureness"]) == (hole, sureness)


@pytest.mark.parametrize("fmt", OUTER_SIZES)
def test_outer_sizes(fmt):
    names = ("holder_length", "holder_width", "holder_thickness", "rib_distance")
    assert tuple(STANDARDS[f"{name}.{fmt}"]["value"] for name in names) == OUTER_SIZES[fmt]
    assert {STANDARDS[f"{name}.{fmt}"]["sureness"] for name in names} == {"weak"}


def test_rib_and_other_conventions():
    assert STANDARDS["rib_height"]["value"] == 1.5  # about 1.5 mm high and wide, as quoted, fair
    assert STANDARDS["circle_of_confusion.contact"]["value"] == 0.2
    assert {STANDARDS[f"circle_of_confusion.{name}"]["value"] for name in ("1750", "1730", "1500")} == {1750, 1730, 1500}
    assert STANDARDS["focal_length_marking"]["tolerance"] == 5  # a national inspection rule, fair
    assert STANDARDS["aperture_marking"]["tolerance"] == 10  # Washer 1948, J. SMPE 51(3)


@pytest.mark.parametrize(("size", "thinnest", "thickest"), [("0", 0.8, 3.75), ("1", 1.2, 3.75), ("3", 1.2, 8.75)])
def test_board_thickness_within_thread_reach(size, thinnest, thickest):
    # A lens-mounting workshop's page, through trade notes L22 (weak).
    entry = STANDARDS[f"board_thickness.{size}"]
    assert (entry["low"], entry["value"]) == (thinnest, thickest)


@pytest.mark.parametrize("fmt", DIAGONALS)
def test_diagonals(fmt):
    assert next(entry["diagonal_mm"] for entry in DATA["formats"] if entry["id"] == fmt) == DIAGONALS[fmt]


@pytest.mark.parametrize("fmt", CIRCLES)
def test_circle_of_confusion(fmt):
    diagonal = next(entry["diagonal_mm"] for entry in DATA["formats"] if entry["id"] == fmt)
    assert isclose(diagonal / STANDARDS["circle_of_confusion.1750"]["value"], CIRCLES[fmt], abs_tol=0.0001)


def test_look_alike_formats_share_one_outside():
    # Trade notes H1: 5x7 in, 13x18 cm and half-plate share one outside size.
    families = {entry["id"]: entry["family"] for entry in DATA["formats"]}
    assert families["5x7"] == families["13x18"] == families["half_plate"] != families["4x5"]


def test_bands_are_marked_as_common_practice():
    assert (STANDARDS["shutter_band.fine"]["value"], STANDARDS["shutter_band.usable"]["value"]) == (pytest.approx(1 / 3, abs=1e-6), 1)
    assert {STANDARDS[f"shutter_band.{name}"]["sureness"] for name in ("fine", "usable")} == {"common practice, no source"}
    # A repair hand's rule, weak: 20 per cent to 1/100, 30 per cent from 1/125.
    assert (STANDARDS["repair_rule.slow"]["value"], STANDARDS["repair_rule.fast"]["value"]) == (20, 30)
    assert {STANDARDS[f"repair_rule.{name}"]["sureness"] for name in ("slow", "fast")} == {"weak"}


def series(name: str) -> dict[str, float]:
    entry = next(entry for entry in DATA["series"] if entry["id"] == name)
    return {mark["text"]: mark["nominal"]["num"] / mark["nominal"]["den"] for mark in entry["marks"]}


def marked(text: str) -> float:
    return 1 / float(text.partition("/")[2] or 1)


def test_current_series_stands_for_powers_of_two():
    current = series("current")
    assert list(current) == ["1", "1/2", "1/4", "1/8", "1/15", "1/30", "1/60", "1/125", "1/250", "1/500"]
    assert list(current.values()) == [2.0**-n for n in range(10)]
    # Arithmetic: 1/15, 1/30, 1/60 read +0.093 stop long by their mark, 1/125, 1/250, 1/500 +0.034.
    for text, stops in {"1/15": 0.093, "1/30": 0.093, "1/60": 0.093, "1/125": 0.034, "1/250": 0.034, "1/500": 0.034}.items():
        assert isclose(log2(marked(text) / current[text]), stops, abs_tol=0.0005), text


@pytest.mark.parametrize(("name", "marks"), [
    # Handbook section 5; the alternatives at the top of the older series are all there to choose from.
    ("older", ["1", "1/2", "1/5", "1/10", "1/25", "1/50", "1/100", "1/200", "1/250", "1/300", "1/400", "1/500"]),
    ("odd", ["1/20", "1/75", "1/150", "1/350"]),
])
def test_old_marks_stand_for_themselves(name, marks):
    assert list(series(name)) == marks
    assert all(seconds == marked(text) for text, seconds in series(name).items())


def test_every_standard_names_source_and_sureness():
    for entry in DATA["standards"]:
        assert entry["sureness"].split(":")[0] in {"sure", "fair", "weak", "common practice, no source"}, entry["id"]
        assert not entry["source"].startswith("figures"), entry["id"]
