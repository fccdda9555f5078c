"""Writes one invented story in the export format: changes as a phone would have made them, plus its pictures and sounds."""

from __future__ import annotations

import hashlib
import io
import json
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from barnlight import catalogue
from barnlight.demo import shutter_sound
from barnlight.demo.pictures import leak_truth, render
from barnlight.domain import clock, ids
from barnlight.domain.exposure import parse_mark
from barnlight.exchange import form
from barnlight.media import audio

MADE_BY = "Barnlight's own code (barnlight.demo); people, places and things are invented"


@dataclass
class Story:
    """One story: every method adds changes at the story's own time, so that the same code gives the same bytes.

    `begins` is local time at the place, `offset_min` its distance from UTC in minutes.
    """

    name: str
    about: str
    begins: datetime
    offset_min: int
    author: str
    changes: list[dict] = field(default_factory=list)
    media: dict[str, tuple[str, bytes]] = field(default_factory=dict)
    _count: int = 0
    _stamp: str | None = None
    _last: dict[tuple[str, str], str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._catalogue = catalogue.load()
        self._checks = {check["id"]: check for check in self._catalogue["checks"]}
        self._now = self.begins.replace(tzinfo=UTC) - timedelta(minutes=self.offset_min)
        self.device, self.space = self._id("device"), self._id("space")

    def _id(self, word: str) -> str:
        self._count += 1
        return hashlib.sha256(f"{self.name}\n{word}\n{self._count}".encode()).hexdigest()[:32]

    def _seed(self, word: str) -> int:
        return int.from_bytes(hashlib.sha256(f"{self.name}\n{word}".encode()).digest()[:4], "big")

    def wait(self, **span: float) -> None:
        """Let time pass, as in `wait(minutes=3)`."""
        self._now += timedelta(**span)

    @property
    def moment(self) -> dict:
        return {"ms": int(self._now.timestamp() * 1000), "offset_min": self.offset_min}

    @property
    def day(self) -> str:
        return (self._now + timedelta(minutes=self.offset_min)).date().isoformat()

    def put(self, kind: str, record: str | None = None, /, **values: Any) -> str:
        """Add one change a field; returns the record's id."""
        record = record or self._id(kind)
        for name, value in values.items():
            self._now += timedelta(milliseconds=40)
            self._stamp = clock.tick(self._stamp, self.moment["ms"], self.device)
            change = self._id("change")
            self.changes.append({
                "id": change, "space": self.space, "kind": kind, "record": record, "field": name, "value": value,
                "stamp": self._stamp, "base": self._last.get((record, name)), "settles": [],
                "device": self.device, "author": self.author, "schema": 1,
            })
            self._last[record, name] = change
        return record

    def answer(self, visit: str, check: str, outcome: str, *, place: str = "", faults: tuple[str, ...] = (),
               remark: str = "", seconds: float = 12, **more: Any) -> str:
        """Answer a check of the catalogue; an unknown check or fault is a mistake in the story and raises KeyError."""
        known = {fault["id"] for fault in self._checks[check]["faults"]}
        if missing := set(faults) - known:
            raise KeyError(f"{check} has no fault {sorted(missing)}; it has {sorted(known)}")
        self.wait(seconds=seconds)
        values: dict[str, Any] = {"visit": visit, "check": check, "place": place,
                                  "result": {"outcome": outcome, "faults": list(faults), "at": self.moment, **more}}
        if remark:
            values["remark"] = remark
        return self.put("answer", ids.answer_id(visit, check, place), **values)

    def reading(self, visit: str, check: str, reading: str, text: str, unit: str, *, place: str = "",
                instrument: str = "depth_gauge", resolution_mm: float | None = 0.01) -> str:
        """Type a figure, as read off the instrument."""
        if reading not in {one["id"] for one in self._checks[check]["readings"]}:
            raise KeyError(f"{check} has no reading {reading}")
        self.wait(seconds=4)
        return self.put("reading", ids.reading_id(visit, check, place, reading), visit=visit, check=check, place=place,
                        reading=reading, typed={"text": text, "unit": unit},
                        instrument={"kind": instrument, "resolution_mm": resolution_mm}, at=self.moment)

    def photo(self, visit: str, picture: str, *, check: str | None = None, place: str = "", caption: str = "",
              spots: tuple[tuple[float, float, str], ...] = (), leaks: bool = False) -> str:
        """Add one of the rendered pictures, with spots as (x, y, label) in fractions of width and height.

        `leaks` marks the points of light where the renderer put them.
        """
        self.wait(seconds=6)
        seed = self._seed(picture + place)
        data = render(picture, seed)
        if leaks:
            spots = tuple((round(leak.x, 4), round(leak.y, 4), f"light {number}") for number, leak in enumerate(leak_truth(picture, seed), 1))
        with Image.open(io.BytesIO(data)) as image:
            width, height = image.size
        photo = self.put("photo", visit=visit, check=check, place=place, taken=self.moment, origin="made_by_code",
                         caption=caption, left_out=False,
                         file={"hash": self._keep(data, "image/jpeg"), "type": "image/jpeg", "bytes": len(data),
                               "width": width, "height": height})
        for x, y, label in spots:
            self.put("spot", photo=photo, at={"x": x, "y": y}, label=label)
        return photo

    def firing(self, visit: str, marked: str, open_time_s: float, *, cold: bool = False, ordinal: int = 1,
               stop: str = "f/5.6", celsius: float | None = None,
               since_last_s: float | None = None) -> str:
        """Record one firing of known open time with the project's own shutter-sound simulator, and the take that names it."""
        self.wait(seconds=9)
        rng = np.random.default_rng(self._seed(f"{marked} {cold} {ordinal}"))
        samples, rate_hz, _truth = shutter_sound.one_firing(rng, open_time_s=open_time_s)
        data = audio.to_wav(samples, rate_hz)
        recording = self.put("recording", visit=visit, made=self.moment, origin="made_by_code",
                             capture={"processed": False, "lost_frames": 0, "settings": {}},
                             file={"hash": self._keep(data, "audio/wav"), "type": "audio/wav", "bytes": len(data),
                                   "rate_hz": rate_hz, "duration_ms": round(1000 * len(samples) / rate_hz, 3)})
        return self.put("take", visit=visit, recording=recording, at=self.moment,
                        intent={"marked": {"text": marked, "seconds": parse_mark(marked)}, "cold": cold, "ordinal": ordinal},
                        conditions={"stop": stop, "attitude": "level", "celsius": celsius, "since_last_s": since_last_s})

    def _keep(self, data: bytes, kind: str) -> str:
        name = hashlib.sha256(data).hexdigest()
        self.media[name] = (kind, data)
        return name

    def write(self, folder: Path) -> None:
        """Write the export form, document and `media/`, under `folder`."""
        (folder / "media").mkdir(parents=True, exist_ok=True)
        listing = []
        for name, (kind, data) in sorted(self.media.items()):
            entry = {"hash": name, "type": kind, "bytes": len(data), "made_by_code": True}
            (folder / form.media_name(entry)).write_bytes(data)
            listing.append(entry)
        head = {"format": form.FORMAT, "version": form.VERSION, "made_by": MADE_BY, "about": self.about}
        lines = ",\n".join(json.dumps(change, ensure_ascii=False, sort_keys=True) for change in self.changes)
        files = ",\n".join(json.dumps(one, sort_keys=True) for one in listing)
        text = json.dumps(head, ensure_ascii=False)[:-1] + f',\n"changes": [\n{lines}\n],\n"media": [\n{files}\n]}}\n'
        (folder / form.DOCUMENT).write_text(text, encoding="utf-8")
