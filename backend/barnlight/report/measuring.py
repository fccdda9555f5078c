"""Measures the recordings a report speaks of, from the stored bytes and nothing a phone said; each result is kept by hash."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from barnlight.domain.shutter_beside import measure_beside
from barnlight.domain.waveform import wave
from barnlight.store.blobs import DiskBlobs


def measure_takes(
    takes: Iterable[Mapping], recordings: Iterable[Mapping], blobs: DiskBlobs, space: str, read_sound: Callable[[bytes], tuple[Any, int]], constants: dict
) -> dict[str, dict[str, Any]]:
    """Take id -> measurement of its recording at its marked speed; a take whose bytes are not here is left out."""
    hashes = {one["id"]: one["file"]["hash"] for one in recordings if one.get("file")}
    found = {}
    for take in takes:
        sha256 = hashes.get(take.get("recording") or "")
        if sha256 is not None and take.get("intent") and blobs.has(space, sha256):
            found[take["id"]] = measure_stored(blobs, space, sha256, take["intent"]["marked"]["seconds"], read_sound, constants)
    return found


def draw_waves(
    marks: Mapping[str, tuple[float | None, float | None]], takes: Iterable[Mapping], recordings: Iterable[Mapping], blobs: DiskBlobs, space: str,
    read_sound: Callable[[bytes], tuple[Any, int]],
) -> dict[str, dict[str, Any]]:
    """Take id -> the stretch of its sound around its marks (seconds, both None for all of it), each made once."""
    hashes = {one["id"]: one["file"]["hash"] for one in recordings if one.get("file")}
    found = {}
    for take in takes:
        if take["id"] in marks:
            open_s, close_s = marks[take["id"]]

            def make(data: bytes, open_s: float | None = open_s, close_s: float | None = close_s) -> bytes:
                return json.dumps(wave(*read_sound(data), open_s, close_s)).encode()

            form = f"wave-1-{'all' if open_s is None else f'{open_s:.6f}-{close_s:.6f}'}.json"
            found[take["id"]] = json.loads(blobs.derived(space, hashes[take["recording"]], form, make))
    return found


def measure_stored(
    blobs: DiskBlobs, space: str, sha256: str, marked_s: float | None, read_sound: Callable[[bytes], tuple[Any, int]], constants: dict
) -> dict[str, Any]:
    """The measurement of one stored recording. The same bytes, mark and algorithm give the same result: it is made once.

    Raises FileNotFoundError if the bytes are not here, ValueError if they cannot be measured.
    """

    def make(data: bytes) -> bytes:
        samples, rate_hz = read_sound(data)
        return json.dumps(measure_beside(samples, rate_hz, marked_s, constants)).encode()

    form = f"timing-beside-{constants['algorithm']}-{'unmarked' if marked_s is None else f'{marked_s:.9g}'}.json"
    return json.loads(blobs.derived(space, sha256, form, make))
