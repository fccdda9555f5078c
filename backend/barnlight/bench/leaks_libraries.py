"""General ways to find bright spots, on the same pictures and with the same matching: blob finders, threshold and label, median plus noise.

scikit-image is optional: where it is not installed its lines are left out, and said.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable

import numpy as np
from scipy import ndimage

from barnlight import catalogue
from barnlight.domain import leak_filters as filters
from barnlight.domain.leak_reduce import area_reduced, reduced_size

Finder = Callable[[np.ndarray], np.ndarray]
MOST_AREA = 900  # px, the largest piece that counts as a spot, as in the own finder


def thresholded(code: float) -> Finder:
    """Pieces at least so bright, neither single pixels nor large."""
    return lambda level: _pieces(level >= code, level)


def over_median(times: float) -> Finder:
    """Pieces that many robust sigmas over the whole picture's median."""

    def find(level: np.ndarray) -> np.ndarray:
        middle = float(np.median(level))
        sigma = max(0.5, 1.4826 * float(np.median(np.abs(level - middle))))
        return _pieces(level >= middle + times * sigma, level)

    return find


def blobs(name: str, threshold: float) -> Finder:
    """scikit-image's blob_dog or blob_log, sigma 1-6 px, overlap 0.3."""

    def find(level: np.ndarray) -> np.ndarray:
        finder = getattr(importlib.import_module("skimage.feature"), name)
        found = finder(level / 255, min_sigma=1, max_sigma=6, threshold=threshold, overlap=0.3)
        return found[:, [1, 0]]

    return find


def finders() -> dict[str, Finder]:
    """Every method by its name, those that need a library only where it is there."""
    found: dict[str, Finder] = {f"threshold {code} + label": thresholded(code) for code in (60, 100, 150, 200)}
    found |= {f"median + {times} MAD + label": over_median(times) for times in (6, 10)}
    try:
        importlib.import_module("skimage.feature")
    except ImportError:
        print("  scikit-image is not installed: blob_dog and blob_log are left out")
        return found
    return found | {f"{name} > {least}": blobs(name, least) for name, of in (("blob_dog", (0.05, 0.08, 0.12)), ("blob_log", (0.08, 0.2))) for least in of}


def places(finder: Finder, full: np.ndarray) -> list[tuple[float, float]]:
    """What a method finds in a photo, at the working size, in px of the photo."""
    constants = catalogue.load()["leaks"]
    height, width = full.shape[:2]
    working = area_reduced(full, reduced_size(width, height, constants["working"]["long_edge"]))
    found = finder(filters.luma(working, constants["luma"]))
    scale = width / working.shape[1]
    return [((x + 0.5) * scale - 0.5, (y + 0.5) * scale - 0.5) for x, y in found]


def _pieces(mask: np.ndarray, level: np.ndarray) -> np.ndarray:
    labels, count = ndimage.label(mask, np.ones((3, 3)))
    areas = np.bincount(labels.ravel(), minlength=count + 1)[1:]
    wanted = np.flatnonzero((areas >= 2) & (areas <= MOST_AREA)) + 1
    centres = ndimage.center_of_mass(level, labels, wanted) if len(wanted) else []
    return np.array([(x, y) for y, x in centres]).reshape(-1, 2)
