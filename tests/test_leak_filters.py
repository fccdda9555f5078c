"""Steps of the leak finder against scipy.ndimage, written another way than the finder does, and by their properties."""

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from scipy import ndimage

from barnlight import catalogue
from barnlight.domain import leak_filters, leak_maps, leak_pieces, leak_points
from barnlight.domain.leak_reduce import area_reduced, reduced_size

CONSTANTS = catalogue.load()["leaks"]
STEPS = json.loads((Path(__file__).parent / "files" / "leaks" / "steps.json").read_text("utf-8"))


def picture(seed: int, height: int = 96, width: int = 128) -> np.ndarray:
    """Noise with a few bright places, in codes."""
    rng = np.random.default_rng(seed)
    made = rng.gamma(2, 6, (height, width))
    made[height // 3 : height // 3 + 3, width // 2 : width // 2 + 3] += 150
    made[:, 5] += 60
    return np.clip(made, 0, 255).astype(np.float32)


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step["function"])
def test_the_kept_steps_are_what_scipy_gives(step):
    """The web app's test reads the same file: so its steps, too, are held to scipy.ndimage, which writes the outcome here anew."""
    source = np.array(step["in"], np.float32)
    expected = {
        "smoothed": lambda: ndimage.convolve(source, np.outer([1, 4, 6, 4, 1], [1, 4, 6, 4, 1]) / 256, mode="nearest"),
        "box_mean": lambda: ndimage.uniform_filter(source.astype(float), step["with"][0], mode="nearest"),
        "surface_ceiling": lambda: ndimage.maximum_filter(
            ndimage.grey_opening(source, size=step["with"][0], mode="nearest"), size=step["with"][1], mode="nearest"),
        "stepped_median": lambda: ndimage.median_filter(source, step["with"][0], mode="nearest"),
        "block_means": lambda: _block_means_by_scipy(source, step["with"][0]),
        "enlarged": lambda: _enlarged_by_scipy(source, *step["with"]),
        "gaussian": lambda: ndimage.gaussian_filter(source.astype(float), step["with"][0], mode="nearest"),
    }[step["function"]]()
    assert np.abs(expected - np.array(step["out"])).max() <= step["tolerance"]


def _block_means_by_scipy(source: np.ndarray, block: int) -> np.ndarray:
    padded = np.pad(source.astype(float), [(0, -size % block) for size in source.shape], mode="edge")
    tall, wide = (size // block for size in padded.shape)
    y, x = np.indices(padded.shape) // block
    return np.reshape(ndimage.mean(padded, y * wide + x, np.arange(tall * wide)), (tall, wide))


def _enlarged_by_scipy(blocks: np.ndarray, block: int, shape: list[int]) -> np.ndarray:
    at = np.meshgrid(*((np.arange(size) + 0.5) / block - 0.5 for size in shape), indexing="ij")
    return ndimage.map_coordinates(blocks.astype(float), at, order=1, mode="nearest")


@pytest.mark.parametrize("seed", range(3))
def test_python_steps_against_scipy(seed):
    source = picture(seed)
    assert leak_filters.smoothed(source) == pytest.approx(
        ndimage.convolve(source, np.outer([1, 4, 6, 4, 1], [1, 4, 6, 4, 1]) / 256, mode="nearest"), abs=1e-3)
    blocks = leak_filters.block_means(source, 4)
    assert blocks == pytest.approx(source.reshape(24, 4, 32, 4).mean(axis=(1, 3)), abs=1e-3)
    # Rounding to quarters of a code moves a median by an eighth at most.
    assert np.abs(leak_filters.stepped_median(blocks, 11, 4) - ndimage.median_filter(blocks, 11, mode="nearest")).max() <= 0.125 + 1e-6
    opened = ndimage.grey_opening(blocks, size=3, mode="nearest")
    assert (leak_filters.surface_ceiling(blocks, 3, 11) == ndimage.maximum_filter(opened, 11, mode="nearest")).all()
    assert leak_filters.enlarged(blocks, 4, source.shape) == pytest.approx(_enlarged_by_scipy(blocks, 4, list(source.shape)), abs=1e-3)


def test_glow_is_what_a_binary_opening_keeps():
    blocks = np.zeros((60, 80), np.float32)
    blocks[10:30, 10:30] = 255  # 400 blocks are 6400 px
    blocks[40, :] = 255  # one block high: no opening
    blocks[50:53, 50:53] = 255  # 144 px: too small
    mask = leak_maps.glow_mask(blocks, 1.0, 4, CONSTANTS["glow"])
    kept = ndimage.binary_opening(blocks >= 225, np.ones((2, 2)))
    kept[45:, 45:] = False
    assert (mask == ndimage.binary_dilation(kept, np.ones((11, 11)))).all()


def test_noise_of_plain_gaussian_noise_is_near_its_own_sigma():
    """Source: 1.349 and 1.2816 are the quartile and upper-decile distances of the normal distribution (standard tables)."""
    level = np.random.default_rng(1).normal(60, 4, (480, 640)).astype(np.float32)
    smooth = leak_filters.smoothed(level)
    fine = smooth - leak_filters.box_mean(level, 11)
    found = leak_maps.noise_map(level, smooth, np.zeros(level.shape, bool), CONSTANTS["noise"])
    assert found.mean() / (CONSTANTS["noise"]["factor"] * fine.std()) == pytest.approx(1.03, abs=0.06)


def test_noise_within_the_glow_is_the_neighbours():
    level = np.random.default_rng(2).normal(60, 4, (288, 288)).astype(np.float32)
    near_glow = np.zeros(level.shape, bool)
    near_glow[:, :100] = True
    found = leak_maps.noise_map(level, leak_filters.smoothed(level), near_glow, CONSTANTS["noise"])
    assert np.isfinite(found).all() and found[:, 10].mean() == pytest.approx(found[:, 144].mean(), rel=0.1)
    everywhere = leak_maps.noise_map(level, leak_filters.smoothed(level), np.ones(level.shape, bool), CONSTANTS["noise"])
    assert (everywhere == np.float32(CONSTANTS["noise"]["least_code"])).all()


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(-40, 40), min_size=1, max_size=200), st.sampled_from([0.0, 0.25, 0.5, 0.9, 1.0]))
def test_rank_level_is_a_rank(values, share):
    """Within half a step of numpy's own (method "inverted_cdf")."""
    expected = np.quantile(np.array(values, np.float64), share, method="inverted_cdf")
    assert abs(leak_filters.rank_level(np.array(values, np.float32), share, 32, 64) - expected) <= 0.5 / 32 + 1e-4


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 70), st.integers(1, 70), st.integers(1, 60))
def test_reducing_keeps_the_mean_light(height, width, long_edge):
    pixels = np.random.default_rng(height * width).integers(0, 256, (height, width, 3), np.uint8)
    small = area_reduced(pixels, reduced_size(width, height, long_edge))
    assert max(small.shape[:2]) == min(max(height, width), long_edge)
    assert np.abs(small.mean(axis=(0, 1)) - pixels.mean(axis=(0, 1))).max() <= 0.51


def test_reducing_by_a_whole_number_is_a_block_mean():
    pixels = np.random.default_rng(3).integers(0, 256, (60, 80, 3), np.uint8)
    blocks = pixels.reshape(30, 2, 40, 2, 3).mean(axis=(1, 3))
    assert np.abs(area_reduced(pixels, (40, 30)) - blocks).max() <= 0.5


def with_spots(*spots: tuple[int, int, float, float]) -> leak_maps.Maps:
    """Maps of a dark picture with Gaussian spots (x, y, sigma, height in codes)."""
    rng = np.random.default_rng(5)
    y, x = np.mgrid[:240, :320]
    level = rng.normal(20, 1, (240, 320))
    for across, down, sigma, height in spots:
        level += height * np.exp(-((x - across) ** 2 + (y - down) ** 2) / (2 * sigma * sigma))
    return leak_maps.maps_of(np.clip(level, 0, 255).astype(np.uint8)[..., None].repeat(3, axis=2), CONSTANTS)


def test_a_spot_is_where_and_as_large_as_it_was_made():
    [found] = leak_pieces.pieces_of(with_spots((100, 80, 1.5, 120)), CONSTANTS)
    assert (found.x, found.y) == pytest.approx((100, 80), abs=0.2)
    assert found.length / found.width < 1.3
    assert found.box[0] <= 100 <= found.box[2] and found.box[1] <= 80 <= found.box[3]


def test_a_line_of_spots_is_long_and_lies_as_it_was_drawn():
    slit = [(100 + step, 80 + step, 1.2, 90.0) for step in range(0, 24, 2)]
    found = max(leak_pieces.pieces_of(with_spots(*slit), CONSTANTS), key=lambda piece: piece.length)
    assert found.length > 20 and found.length / found.width > 3
    assert np.degrees(found.angle) == pytest.approx(45, abs=3)  # y down
    assert leak_points.is_streak(found, CONSTANTS["streak"])


@settings(max_examples=15, deadline=None)
@given(st.integers(40, 280), st.integers(40, 200))
def test_a_shifted_spot_is_a_shifted_piece(x, y):
    [found] = leak_pieces.pieces_of(with_spots((x, y, 1.5, 120)), CONSTANTS)
    assert (found.x, found.y) == pytest.approx((x, y), abs=0.3)


def test_constants_fit_their_schema():
    schema = catalogue.read("schema/leaks.schema.json")
    Draft202012Validator.check_schema(schema)
    assert [error.message for error in Draft202012Validator(schema).iter_errors(CONSTANTS)] == []
    assert not Draft202012Validator(schema).is_valid({**CONSTANTS, "core_share": 0})
