"""How long a report of 40 photos takes in a store of 1,000 sessions: `python -m barnlight.bench.report [--sessions N] [--photos N]`.

The yardstick is reading and decoding the photos of the report once, in the same run. The PDF is made in a process of its own,
so that its memory is its own.
"""

from __future__ import annotations

import argparse
import hashlib
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import datetime
from io import BytesIO
from pathlib import Path

import numpy as np
from flask.testing import FlaskClient
from PIL import Image

from barnlight.app import create_app
from barnlight.config import Config
from barnlight.demo.story import Story
from barnlight.exchange.intake import take_in
from barnlight.report.pdf import make_pdf
from barnlight.services import Services
from barnlight.store import devices
from barnlight.sync.push import push

WIDTH, HEIGHT = 1600, 1200
AT_ONCE = 500
RUNS = 15
HTML_MS, PDF_S, PDF_MIB = 150, 3, 300
LOOKS = ("lens.glass.haze", "lens.glass.fungus", "lens.shutter.fires", "lens.shutter.speeds", "lens.iris.moves")
FROM_APP = {"X-Barnlight": "1"}


def a_picture(rng: np.random.Generator) -> bytes:
    """A JPEG of about 400 kB: noise of the grain that a photo of a dark room has."""
    coarse = rng.integers(0, 256, (HEIGHT // 8, WIDTH // 8, 3), np.uint8)
    image = Image.fromarray(coarse).resize((WIDTH, HEIGHT), Image.Resampling.BICUBIC)
    grain = rng.normal(0, 9, (HEIGHT, WIDTH, 1)).astype(np.int16)
    out = BytesIO()
    Image.fromarray(np.clip(np.asarray(image, np.int16) + grain, 0, 255).astype(np.uint8)).save(out, "JPEG", quality=74)
    return out.getvalue()


def fill(services: Services, sessions: int, photos: int) -> str:
    """A book of so many sessions of one lens each; the last has the photos. Returns its id."""
    rng, space = np.random.default_rng(1), services.space()
    story = Story("report bench", "invented", datetime(2026, 9, 12, 9), 120, "the benchmark")
    for n in range(sessions):
        session = story.put("session", title=f"Sale {n}", day=story.day, venue_kind="fair", remote=False, began=story.moment)
        piece = story.put("piece", kind="lens", type="in_shutter", title=f"Lens {n}", shutter_kind="geared_dial_set")
        visit = story.put("visit", session=session, piece=piece, occasion="sale", tag="A", began=story.moment)
        for check in LOOKS:
            story.answer(visit, check, "in_order")
    for n in range(photos):
        data = a_picture(rng)
        name = hashlib.sha256(data).hexdigest()
        story.media[name] = ("image/jpeg", data)
        file = {"hash": name, "type": "image/jpeg", "bytes": len(data), "width": WIDTH, "height": HEIGHT}
        story.put("photo", visit=visit, check=LOOKS[n % len(LOOKS)], place="", taken=story.moment, origin="made_by_code", caption=f"Photo {n}", file=file)
    now_ms = story.moment["ms"]
    for start in range(0, len(story.changes), AT_ONCE):
        _, results = push(services.database, space, story.device, [{**one, "space": space} for one in story.changes[start : start + AT_ONCE]], now_ms)
        refused = [one for one in results if one["result"] != "ok"]
        if refused:
            raise SystemExit(f"The store refused: {refused[0]}")
        print(f"\rfilling {min(start + AT_ONCE, len(story.changes))}/{len(story.changes)} changes", end="", file=sys.stderr)
    print(file=sys.stderr)
    for sha256, (kind, data) in story.media.items():
        take_in(services, space, sha256, kind, BytesIO(data))
    return session


def paired(services: Services) -> FlaskClient:
    """The app's client as a paired phone."""
    with services.database.write() as db:
        code, _ = devices.make_code(db, services.space(), services.now_ms())
    client = create_app(services).test_client()
    answer = client.post("/api/pair", json={"code": code, "device": "b" * 32, "device_name": "bench"}, headers=FROM_APP)
    if answer.status_code != 200:
        raise SystemExit(answer.text)
    return client


def median_ms(work: Callable[[], object], runs: int = RUNS) -> float:
    """The middle of so many times, in milliseconds."""
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        work()
        times.append(1000 * (time.perf_counter() - began))
    return statistics.median(times)


def only_pdf(folder: Path) -> None:
    """Makes the PDF from files and prints seconds, seconds of work, MiB and bytes; run in a process of its own."""
    photos = {f"photo/{file.name}": file.read_bytes() for file in sorted((folder / "photo").iterdir())}
    began, worked = time.perf_counter(), time.process_time()
    made = make_pdf((folder / "page.html").read_text("utf-8"), (folder / "style.css").read_text("utf-8"), photos)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform != "darwin" else 1024 * 1024)
    print(time.perf_counter() - began, time.process_time() - worked, peak, len(made))


def main() -> int:
    parser = argparse.ArgumentParser(description="Time of a report's page and PDF.")
    parser.add_argument("--sessions", type=int, default=1000)
    parser.add_argument("--photos", type=int, default=40)
    parser.add_argument("--only-pdf", type=Path, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.only_pdf:
        only_pdf(given.only_pdf)
        return 0
    with tempfile.TemporaryDirectory() as folder:
        services = Services.open(Config(data_dir=Path(folder) / "data", rate_limits=False))
        session = fill(services, given.sessions, given.photos)
        client = paired(services)
        stored = sorted((services.config.media_dir / "kept").glob("*/*/*"))

        def read_once() -> None:
            for file in stored:
                Image.open(BytesIO(file.read_bytes())).load()

        reading = median_ms(read_once, 3)
        began = time.perf_counter()
        answer = client.post("/api/reports", json={"session": session}, headers=FROM_APP)
        making = 1000 * (time.perf_counter() - began)
        again = median_ms(lambda: client.post("/api/reports", json={"session": session}, headers=FROM_APP), 3)
        path = "/r/" + answer.json["link"].rstrip("/").rsplit("/", 1)[1] + "/"
        page = client.get(path + "page")
        html = median_ms(lambda: client.get(path + "page"))
        parts = Path(folder) / "parts"
        (parts / "photo").mkdir(parents=True)
        (parts / "page.html").write_bytes(page.data)
        (parts / "style.css").write_bytes(client.get(path + "style.css").data)
        for file in stored:
            (parts / "photo" / f"{file.name}.jpg").write_bytes(client.get(f"{path}photo/{file.name}.jpg").data)
        asked = [sys.executable, "-m", "barnlight.bench.report", "--only-pdf", str(parts)]
        seconds, worked, mib, size = map(float, subprocess.run(asked, capture_output=True, text=True, check=True).stdout.split())
    print(f"{given.sessions} sessions, {len(stored)} photos of {statistics.mean(len(a_picture(np.random.default_rng(n))) for n in range(3)) / 1000:.0f} kB")
    print(f"reading and decoding the photos once: {reading:.0f} ms = 1")
    rows = (
        ("making the report, photos made smaller for the first time", making, ""), ("making it again", again, ""),
        ("page, warm", html, f"limit {HTML_MS} ms: {'met' if html < HTML_MS else 'NOT met'}"),
        ("PDF", 1000 * seconds, f"limit {PDF_S} s: {'met' if seconds < PDF_S else 'NOT met'}; {worked:.1f} s of work on a processor; {size / 1e6:.1f} MB"),
    )  # fmt: skip
    for name, ms, target in rows:
        print(f"{name}: {ms:.0f} ms, {ms / reading:.2f} times; {target}".rstrip("; "))
    print(f"most memory of the process that makes the PDF: {mib:.0f} MiB; limit {PDF_MIB} MB: {'met' if mib < PDF_MIB else 'NOT met'}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
