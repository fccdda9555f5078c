"""The pictures that leak finders are held against: simulated by seed, or a folder with a truth.json."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from barnlight.bench.leaks_figures import Leak, Truth
from barnlight.demo.leak_picture import picture
from barnlight.media.leak_photo import upright_pixels

# Median level from which a picture counts as spoilt by room light, though its leaks may show.
TOO_BRIGHT = 80
# Below: for tuning. From here on: for judging.
JUDGING_FROM = 1000


def simulated(seed: int) -> tuple[np.ndarray, Truth]:
    """(upright pixels, truth) of a seed."""
    photo = picture(seed)
    leaks = [Leak(one.shape, [one.line], one.seen_as, one.cnr) for one in photo.leaks]
    full = upright_pixels(photo.jpeg)
    spoilt = photo.spoilt or ("room_light" if float(np.median(full)) > TOO_BRIGHT else None)
    return full, Truth(photo.size, photo.kind, spoilt, leaks, photo.reflections)


def kept(folder: Path) -> Iterator[tuple[np.ndarray, Truth]]:
    """The pictures that a truth.json lists: {"pictures": [{file, width, height, scene, unusable, leaks, distractors}]}."""
    for one in json.loads((folder / "truth.json").read_text("utf-8"))["pictures"]:
        leaks = [Leak(leak["shape"], leak["segments"] or [(leak["x"], leak["y"]) * 2], leak["cls"], leak["cnr"]) for leak in one["leaks"]]
        truth = Truth((one["width"], one["height"]), one["scene"], one["unusable"], leaks, [box["box"] for box in one["distractors"]])
        yield upright_pixels((folder / one["file"]).read_bytes()), truth
