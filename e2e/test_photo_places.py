"""A photo with a place goes in through the real app, and no place comes out: not on the server, not in the report, not in a saved file."""

from __future__ import annotations

import re
import sys
import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

from bench_phone import Phone
from bench_server import ROOT, Server
from hands import add_piece, begin_session, make_report, pair, say_faulty, tap
from made_files import photo_with_gps
from PIL import Image
from playwright.sync_api import Page, expect

sys.path.append(str(ROOT / "tests"))
from public_files import odd_photos, photo_of_a_place  # noqa: E402

TELLS = (b"Exif\0", b"GPS", b"http://ns.adobe.com", b"ICC_PROFILE", b"II*\0", b"MM\0*")


def telling_photos(folder: Path) -> list[Path]:
    """One with a made-up place, one with a real one, and the odd ones of others that a browser can show."""
    folder.mkdir()
    found = [photo_with_gps(folder / "made.jpg")]
    for name, data in {"real.jpg": photo_of_a_place(), **odd_photos()}.items():
        if name.endswith(".jpg"):
            found.append(folder / name)
            found[-1].write_bytes(data)
    return found


def add_photo(page: Page, path: Path) -> bool:
    """Whether the app took it, by its own word, which is put away so that the next photo gets one of its own."""
    page.get_by_label("From a file").set_input_files(path)
    word = page.locator(".toast")
    expect(word).to_contain_text(re.compile("Photo kept|picture"))
    is_taken = "Photo kept" in word.inner_text()
    page.get_by_role("button", name="Close this word").click()
    expect(word).to_have_count(0)
    return is_taken


def test_no_place_comes_out(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    mine = phone()
    page = mine.open(server.url)
    begin_session(page)
    visit = add_piece(page, "Lens", "In a shutter")
    page.goto(f"{server.url}/#/visit/{visit}/check/lens.glass.haze")
    taken = sum(add_photo(page, path) for path in telling_photos(tmp_path / "photos")[:8])
    assert taken >= 3
    expect(page.get_by_role("group", name="Photos").get_by_role("img")).to_have_count(taken)
    say_faulty(page)
    pair(page, server, "Orla")
    make_report(page, f"{server.url}/#/visit/{visit}/report")

    kept = [path for path in (server.data / "media").rglob("*") if path.is_file()]
    assert len([path for path in kept if "kept" in path.parts]) == taken
    for path in kept:
        look_for_places(path.read_bytes(), str(path))

    page.goto(f"{server.url}/#/device")
    with page.expect_download() as saved:
        tap(page, "Save everything to one file")
    with zipfile.ZipFile(saved.value.path()) as archive:
        inside = [name for name in archive.namelist() if name.endswith(".jpg")]
        assert len(inside) == taken
        for name in inside:
            look_for_places(archive.read(name), name)


def look_for_places(data: bytes, name: str) -> None:
    """By a reader of others (Pillow), and by the marks that stand before such notes."""
    assert [mark for mark in TELLS if mark in data[:4096]] == [], name
    with Image.open(BytesIO(data)) as picture:
        assert dict(picture.getexif()) == {} and set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}, name
