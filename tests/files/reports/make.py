"""Publishes reports in a fresh store and keeps it with the hash of all it gives out: `python tests/files/reports/make.py YYYY_MM_DD_a`."""

from __future__ import annotations

import hashlib
import json
import re
import sys
import tempfile
import zipfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from phones import Phone, a_photo
from report_bundle import MOMENT, Book, ident, plant_everything

from barnlight.app import create_app
from barnlight.config import Config
from barnlight.report.pdf import is_available
from barnlight.services import Services

HERE = Path(__file__).parent
NOW_MS = 1_800_000_000_000
FORTY_DAYS_MS = 40 * 24 * 3600 * 1000
WHEN = (2027, 1, 15, 8, 0, 0)


def publish(book: Book, order: dict) -> str:
    answer = book.phone.post("/api/reports", {"days": 365, **order})
    assert answer.status_code == 201, answer.text
    return "/r/" + answer.json["link"].rstrip("/").rsplit("/", 1)[1] + "/"


def fill(book: Book) -> tuple[str, list[str]]:
    """A lens reported, repaired and reported again, whole, as a session, and with a part left out. Returns the piece and the links."""
    made = plant_everything(book)
    links = [publish(book, {"piece": made["piece"]}), publish(book, {"session": made["session"]})]
    visit, picture = ident("after repair"), a_photo()
    book.put("visit", visit, piece=made["piece"], occasion="after_repair", began={**MOMENT, "ms": MOMENT["ms"] + FORTY_DAYS_MS})
    book.answer(visit, "lens.glass.haze", "in_order")
    book.photo(visit, "after", picture, check="lens.glass.haze", caption="After cleaning", left_out=False)
    book.send()
    assert book.phone.put_media(picture).status_code == 200
    links.append(publish(book, {"piece": made["piece"]}))
    return made["piece"], [*links, publish(book, {"piece": made["piece"], "hidden_groups": ["lens.shutter"], "paper": "letter"})]


def parts(page: str) -> list[str]:
    """What of a link is asked for."""
    photos = sorted(set(re.findall(r'photo/[0-9a-f]{64}\.jpg', page)))
    return ["page", "style.css", *photos, "report.html", *(["report.pdf"] if is_available() else [])]


def main(day: str) -> None:
    folder = HERE / day
    folder.mkdir()  # never over one that is there
    with tempfile.TemporaryDirectory() as temporary:
        data = Path(temporary) / "store"
        services = Services.open(Config(data_dir=data, rate_limits=False), lambda: NOW_MS)
        app = create_app(services)
        piece, links = fill(Book(Phone(app).pair()))
        buyer = app.test_client()
        asked = [link + part for link in links for part in parts(buyer.get(link + "page").text)]
        served = {path: hashlib.sha256(buyer.get(path).data).hexdigest() for path in asked}
        services.database.close()
        with zipfile.ZipFile(folder / "store.zip", "w", zipfile.ZIP_DEFLATED) as store:
            for file in sorted(one for one in data.rglob("*") if one.is_file()):
                store.writestr(zipfile.ZipInfo(str(file.relative_to(data)), WHEN), file.read_bytes(), zipfile.ZIP_DEFLATED)
    (folder / "served.json").write_text(json.dumps({"now_ms": NOW_MS, "piece": piece, "served": served}, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1])
