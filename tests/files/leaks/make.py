"""Makes the small pictures and steps of the leak finder anew: `python tests/files/leaks/make.py`.

steps.json: what scipy.ndimage gives for each step. *.ppm.gz and results.json: simulated photos reduced to a small size, as
pixels that both languages read without a decoder, and what the Python side finds in them (the truth stands beside it).
"""

import gzip
import json
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image
from scipy import ndimage

from barnlight import catalogue
from barnlight.demo.leak_picture import picture
from barnlight.domain.leak_finder import find_leaks

HERE = Path(__file__).parent
SIZE = (512, 384)
# Seeds below 1000, which nothing is judged by, and why each is kept.
PICTURES = {
    "leak_and_glints": ({"seed": 114, "kind": "bellows", "spoilt": None}, "places strong and weak, one in clutter"),
    "leak": ({"seed": 104, "kind": "bellows", "spoilt": None}, "one place that is a leak"),
    "holder": ({"seed": 108, "kind": "holder", "spoilt": None}, "a leak at the slot of a holder"),
    "black": ({"seed": 100, "kind": "holder", "spoilt": "black"}, "refused: nothing to judge by"),
    "bright": ({"seed": 14, "kind": "holder", "spoilt": "room_light"}, "refused: too much light"),
    "moved": ({"seed": 102, "kind": "bellows", "spoilt": "motion"}, "moved: told by its edges"),
}


def steps() -> list[dict]:
    rng = np.random.default_rng(11)
    source = np.round(np.clip(rng.gamma(2, 12, (22, 26)), 0, 255) * 4) / 4
    source[8:11, 10:14] += 90
    small = source[:9, :11]
    at = np.meshgrid(*((np.arange(size) + 0.5) / 4 - 0.5 for size in (30, 40)), indexing="ij")
    padded = np.pad(source, ((0, 2), (0, 2)), mode="edge")
    made = [
        ("smoothed", source, [], ndimage.convolve(source, np.outer([1, 4, 6, 4, 1], [1, 4, 6, 4, 1]) / 256, mode="nearest"), 1e-3),
        ("box_mean", source, [11], ndimage.uniform_filter(source, 11, mode="nearest"), 1e-3),
        ("surface_ceiling", source, [3, 11], ndimage.maximum_filter(ndimage.grey_opening(source, size=3, mode="nearest"), 11, mode="nearest"), 0),
        ("stepped_median", source, [11, 4], ndimage.median_filter(source, 11, mode="nearest"), 0),
        ("block_means", source, [4], padded.reshape(6, 4, 7, 4).mean(axis=(1, 3)), 1e-3),
        ("enlarged", small, [4, [30, 40]], ndimage.map_coordinates(small, at, order=1, mode="nearest"), 1e-3),
        ("gaussian", source, [1.2], ndimage.gaussian_filter(source, 1.2, mode="nearest", truncate=4), 1e-3),
    ]
    return [{"function": name, "in": given.tolist(), "with": options, "out": np.round(out, 6).tolist(), "tolerance": tolerance}
            for name, given, options, out, tolerance in made]


def main() -> None:
    (HERE / "steps.json").write_text("[\n" + ",\n".join(json.dumps(step) for step in steps()) + "\n]\n", "utf-8")
    held = []
    for name, (asked, why) in PICTURES.items():
        photo = picture(size=SIZE, **asked)
        pixels = Image.open(BytesIO(photo.jpeg)).convert("RGB")
        out = BytesIO()
        pixels.save(out, "PPM")
        (HERE / f"{name}.ppm.gz").write_bytes(gzip.compress(out.getvalue(), 9, mtime=0))
        truth = [[round(leak.x, 1), round(leak.y, 1), leak.seen_as] for leak in photo.leaks]
        held.append({"file": f"{name}.ppm.gz", "why": why, "true_leaks": truth, "result": find_leaks(np.asarray(pixels), catalogue.load()["leaks"])})
    (HERE / "results.json").write_text("[\n" + ",\n".join(json.dumps(one) for one in held) + "\n]\n", "utf-8")


if __name__ == "__main__":
    main()
