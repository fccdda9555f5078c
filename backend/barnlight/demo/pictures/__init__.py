"""Pictures for the demo, all drawn by this code: no photograph, no real maker; each says so in its corner."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np
from PIL import Image

from barnlight.demo.pictures import bellows_dark, field_camera, finish, glass_pictures, holders, layouts, lens_pictures
from barnlight.demo.pictures.bellows_dark import Leak

SIZE = (1600, 1200)
MARK = finish.MARK
LARGEST_BYTES = 350_000


def _dark(rng: np.random.Generator, size: tuple[int, int], full: bool) -> Image.Image:
    return bellows_dark.picture(_dark_seed(rng), size, full)


def _dark_seed(rng: np.random.Generator) -> int:
    return int(rng.integers(2**31))


PICTURES: dict[str, Callable[[np.random.Generator, tuple[int, int]], Image.Image]] = {
    "field_camera_front": field_camera.front,
    "field_camera_rear_spring_missing": field_camera.rear,
    "bellows_dark_middle": partial(_dark, full=False),
    "bellows_dark_full": partial(_dark, full=True),
    "lens_front": lens_pictures.clean_front,
    "lens_separation": lens_pictures.separation,
    "lens_haze_fungus": lens_pictures.haze,
    "lens_rim_front": lens_pictures.rim_front,
    "lens_rim_rear": lens_pictures.rim_rear,
    "lens_rim_rear_other_number": lens_pictures.rim_rear_other,
    "shutter_dial": glass_pictures.dial,
    "ground_glass_cracked": glass_pictures.cracked_glass,
    "holder_single": holders.single,
    "holder_tabs_bright_dark": holders.dark_tab,
    "holder_stack_ten": holders.stack,
    "holder_corner_cracked": holders.cracked,
    "holder_slot_light": holders.slot_light,
    "lens_contents": layouts.contents,
    "listing_monorail": layouts.listing,
}

# What each picture shows, in words for a caption or for those who cannot see it.
SHOWS: dict[str, str] = {
    "field_camera_front": "A folding field camera in wood and brass on a table, from the front at an angle",
    "field_camera_rear_spring_missing": "The camera's back: the ground glass has one spring, the other is missing and its two screw holes are empty",
    "bellows_dark_middle": "Bellows at middle extension in the dark, a lamp inside: two bright points",
    "bellows_dark_full": "Bellows at full extension in the dark, a lamp inside: four bright points",
    "lens_front": "A lens in a dial shutter from the front, the glass clean",
    "lens_separation": "The front glass near: a milky crescent with rainbow edges where the cement has parted",
    "lens_haze_fungus": "The front glass under a small lamp: haze, and threads of fungus in five places",
    "lens_rim_front": "The engraved front ring, near, with its number 0048213",
    "lens_rim_rear": "The rear cell's ring, near, with the number 0048213",
    "lens_rim_rear_other_number": "The rear cell's ring, near, with the number 0051790, not that of the front",
    "shutter_dial": "The face of a dial shutter: T, B, 1 to 1/500 on the ring, stops 5.6 to 64 under a red pointer",
    "ground_glass_cracked": "A ground glass in its frame, four cracks running from a knock near one corner",
    "holder_single": "A sheet-film holder, its slide drawn part of the way, bright tab out",
    "holder_tabs_bright_dark": "Two sheet-film holders, one with the bright, one with the dark side of its tab showing",
    "holder_stack_ten": "Ten numbered sheet-film holders in a pile; number 3 has a cracked corner",
    "holder_corner_cracked": "The cracked corner of holder 3, near: the crack stands open and a chip is gone",
    "holder_slot_light": "The slot of a holder with a lamp behind it: a broken line of light",
    "lens_contents": "What comes with a lens, laid out: lens in shutter, retaining ring, lens board, two caps, cable release",
    "listing_monorail": "A seller's picture of a monorail kit: dark, yellow and shaken",
}


def render(name: str, seed: int, size: tuple[int, int] = SIZE) -> bytes:
    """One picture as JPEG bytes without metadata, the same for the same name, seed and size; unknown names raise KeyError."""
    image = finish.marked(PICTURES[name](np.random.default_rng(seed), size))
    for quality in (80, 74, 66, 56):
        data = finish.jpeg(image, quality)
        if len(data) <= LARGEST_BYTES:
            break
    return data


def leak_truth(name: str, seed: int) -> list[Leak]:
    """Where the light truly comes through in a bellows picture, as shares of width and height; KeyError for other pictures."""
    full = {"bellows_dark_middle": False, "bellows_dark_full": True}[name]
    return bellows_dark.truth(_dark_seed(np.random.default_rng(seed)), full)
