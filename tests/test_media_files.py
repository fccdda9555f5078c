"""What becomes of good and hostile files (tests/files), by the checks themselves and over HTTP."""

from __future__ import annotations

import io
import os
from pathlib import Path

import pytest
from flask import Flask
from phones import Phone, a_photo, sha256
from PIL import Image

from barnlight.media import RefusedMedia, image
from barnlight.media.containers import foreign_part, kind_of
from barnlight.store import blobs

FILES = Path(__file__).parent / "files"
TYPES = {".jpg": "image/jpeg", ".png": "image/png", ".webp": "image/webp", ".wav": "audio/wav"}
GOOD = ["good.jpg", "good.png", "good.webp", "good.wav"]
# The reason of the refusal; tests/files/README.md says what each file is.
HOSTILE = {
    "empty.jpg": "not_a_photo",
    "page.jpg": "not_a_photo",
    "drawing.jpg": "not_a_photo",
    "truncated.jpg": "damaged",
    "gps.jpg": "metadata",
    "comment.jpg": "metadata",
    "tail.jpg": "metadata",
    "png_as.jpg": "other_kind",
    "text.png": "metadata",
    "bomb.png": "too_many_pixels",
    "profile.webp": "metadata",
    "moving.webp": "metadata",
    "lying.wav": "cut_short",
    "stereo.wav": "not_plain",
}


@pytest.fixture
def phone(app: Flask) -> Phone:
    return Phone(app).pair()


def test_every_file_is_listed_here_and_explained() -> None:
    listed = {*GOOD, *HOSTILE}
    assert {path.name for path in FILES.iterdir() if path.suffix in TYPES} == listed
    assert all(name in (FILES / "README.md").read_text("utf-8") for name in listed)


@pytest.mark.parametrize("name", GOOD)
def test_good_files_are_kept_byte_for_byte(phone: Phone, name: str) -> None:
    data, kind = (FILES / name).read_bytes(), TYPES[Path(name).suffix]
    answer = phone.put_media(data, kind)
    assert answer.json == {"hash": sha256(data), "bytes": len(data), "state": "stored"}
    got = phone.get(f"/api/media/{sha256(data)}")
    assert (got.data, got.mimetype) == (data, kind)
    assert "sandbox" in got.headers["Content-Security-Policy"] and got.headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_files_are_refused_with_words_and_leave_nothing(phone: Phone, name: str) -> None:
    data = (FILES / name).read_bytes()
    answer = phone.put_media(data, TYPES[Path(name).suffix])
    assert (answer.status_code, answer.json["error"]["code"]) == (415, HOSTILE[name])
    assert answer.json["error"]["message"].endswith(".")
    assert phone.get(f"/api/media/{sha256(data)}").status_code == 404
    assert [path for path in phone.services.config.media_dir.rglob("*") if path.is_file()] == []


def test_the_refusal_of_a_place_names_no_place(phone: Phone) -> None:
    answer = phone.put_media((FILES / "gps.jpg").read_bytes())
    assert "NO SUCH MAKER" not in answer.text and "APP1" in answer.text


@pytest.mark.parametrize("more", [{}, {"progressive": True}, {"subsampling": 0, "quality": 95}, {"restart_marker_rows": 1}])
def test_usual_forms_of_jpeg_are_taken(more: dict) -> None:
    assert image.check_photo(a_photo("JPEG", (75, 50), **more)) == image.Photo("image/jpeg", 75, 50)


@pytest.mark.parametrize(("kind", "more"), [("WEBP", {"lossless": True}), ("PNG", {"dpi": (300, 300)}), ("PNG", {"optimize": True})])
def test_usual_forms_of_the_others_are_taken(kind: str, more: dict) -> None:
    assert image.check_photo(a_photo(kind, **more)).width == 64


@pytest.mark.parametrize("mode", ["L", "P", "RGBA", "CMYK"])
def test_reports_get_a_plain_small_jpeg_of_every_mode(mode: str) -> None:
    out = io.BytesIO()
    Image.new(mode, (2000, 500)).save(out, "JPEG" if mode == "CMYK" else "PNG")
    small = image.for_report(out.getvalue())
    with Image.open(io.BytesIO(small)) as picture:
        assert (picture.format, picture.mode, picture.size) == ("JPEG", "RGB", (1280, 320))
    assert foreign_part(small, "image/jpeg") is None


def test_what_was_see_through_is_white_in_a_report() -> None:
    out = io.BytesIO()
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).save(out, "PNG")
    with Image.open(io.BytesIO(image.for_report(out.getvalue()))) as picture:
        assert picture.getpixel((4, 4)) == (255, 255, 255)


@pytest.mark.parametrize("name", ["good.jpg", "good.png", "good.webp"])
def test_a_photo_cut_at_any_byte_is_refused_and_never_crashes(name: str) -> None:
    data = (FILES / name).read_bytes()
    for length in range(0, len(data), 7):
        with pytest.raises(RefusedMedia):
            image.check_photo(data[:length])


@pytest.mark.parametrize("name", ["good.jpg", "good.png", "good.webp"])
def test_a_photo_with_any_byte_changed_is_taken_or_refused_and_never_crashes(name: str) -> None:
    data = bytearray((FILES / name).read_bytes())
    for place in range(0, min(len(data), 700), 3):
        spoiled = bytes(data[:place]) + bytes([data[place] ^ 0xFF]) + bytes(data[place + 1 :])
        try:
            assert image.check_photo(spoiled).type == kind_of(spoiled)
        except RefusedMedia as refused:
            assert refused.message


def test_a_hash_that_does_not_match_is_refused(phone: Phone) -> None:
    answer = phone.put_media(a_photo(), name="0" * 64)
    assert answer.json["error"]["code"] == "wrong_hash"
    assert phone.get("/api/media/" + "0" * 64).status_code == 404


def test_a_second_upload_is_confirmed_again(phone: Phone) -> None:
    data = a_photo()
    assert phone.put_media(data).json == phone.put_media(data).json


def test_only_bytes_that_are_really_there_are_known(phone: Phone) -> None:
    there, lost = a_photo(), a_photo()
    for data in (there, lost):
        phone.put_media(data)
    [path] = phone.services.config.media_dir.rglob(sha256(lost))
    path.unlink()
    answer = phone.post("/api/media/known", {"hashes": [sha256(there), sha256(lost), "0" * 64]})
    assert answer.json == {"known": [sha256(there)]}
    assert phone.get(f"/api/media/{sha256(lost)}").status_code == 404
    assert phone.put_media(lost).status_code == 200
    assert phone.get(f"/api/media/{sha256(lost)}").data == lost


def test_bytes_that_the_disk_changed_are_not_known_and_are_taken_anew(phone: Phone) -> None:
    """A phone frees its copy on the server's word: the word must not be given for what is damaged there."""
    data = a_photo()
    phone.put_media(data)
    [path] = phone.services.config.media_dir.rglob(sha256(data))
    damaged = bytearray(data)
    damaged[len(data) // 2] ^= 1
    path.write_bytes(damaged)
    assert phone.post("/api/media/known", {"hashes": [sha256(data)]}).json == {"known": []}
    assert phone.http.head(f"/api/media/{sha256(data)}").status_code == 404
    assert phone.get(f"/api/media/{sha256(data)}").json["error"]["code"] == "media_missing"
    assert phone.put_media(data).json["state"] == "stored"
    assert path.read_bytes() == data and phone.get(f"/api/media/{sha256(data)}").data == data


@pytest.fixture
def hashed(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """One entry for each file that is hashed."""
    begun: list[int] = []
    monkeypatch.setattr(blobs, "_digest", lambda path, digest=blobs._digest: begun.append(1) or digest(path))
    return begun


def test_what_was_looked_through_once_is_given_out_again_at_once(phone: Phone, hashed: list[int]) -> None:
    data = a_photo()
    phone.put_media(data)
    path = f"/api/media/{sha256(data)}"
    for headers in ({}, {"If-None-Match": f'"{sha256(data)}"'}, {"Range": "bytes=0-9"}, {}):
        assert phone.get(path, headers=headers).data in (data, b"")
    assert len(hashed) == 1
    # But the words on which a phone frees its copy are given after reading, each time.
    for _ in range(2):
        assert phone.http.head(path).status_code == 200
        assert phone.post("/api/media/known", {"hashes": [sha256(data)]}).json["known"]
        assert phone.put_media(data).json["state"] == "stored"
    assert len(hashed) == 1 + 2 * 3


def test_what_was_changed_since_is_not_given_out(phone: Phone) -> None:
    """To the same size and with the time it had: a file's own time can be set back, that of its entry cannot (POSIX, st_ctim)."""
    data = a_photo()
    phone.put_media(data)
    assert phone.get(f"/api/media/{sha256(data)}").data == data
    [path] = phone.services.config.media_dir.rglob(sha256(data))
    times, probe = path.stat(), path.with_name("probe")
    while not probe.exists() or probe.stat().st_ctime_ns <= times.st_ctime_ns:  # a system's clock for files goes on in steps
        probe.write_bytes(b"")
    path.write_bytes(bytes(len(data)))
    os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))
    if os.name == "posix":
        assert phone.get(f"/api/media/{sha256(data)}").json["error"]["code"] == "media_missing"
    assert phone.post("/api/media/known", {"hashes": [sha256(data)]}).json == {"known": []}


def test_a_photo_that_goes_while_it_is_asked_for_is_missing(phone: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    """Erased by another phone between two steps."""
    data = a_photo()
    phone.put_media(data)
    [path] = phone.services.config.media_dir.rglob(sha256(data))
    monkeypatch.setattr(blobs.DiskBlobs, "was_whole", lambda *_: path.unlink() or True)
    assert phone.get(f"/api/media/{sha256(data)}").json["error"]["code"] == "media_missing"


def test_an_unchanged_photo_is_not_sent_again(phone: Phone) -> None:
    data = a_photo()
    phone.put_media(data)
    got = phone.get(f"/api/media/{sha256(data)}")
    again = phone.get(f"/api/media/{sha256(data)}", headers={"If-None-Match": got.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    assert phone.http.head(f"/api/media/{sha256(data)}").status_code == 200


def test_a_file_beyond_the_limit_is_refused(phone: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("barnlight.exchange.intake.MOST_BYTES", 1000)
    answer = phone.put_media(a_photo())
    assert (answer.status_code, answer.json["error"]["code"]) == (413, "too_large")


def test_a_full_disk_says_so_and_leaves_nothing(phone: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_fd: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("barnlight.store.blobs.os.fsync", full)
    answer = phone.put_media(a_photo())
    assert (answer.status_code, answer.json["error"]["code"]) == (507, "store_full")
    assert [path for path in phone.services.config.media_dir.rglob("*") if path.is_file()] == []
