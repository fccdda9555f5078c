"""Real and broken EXIF from public packages: the server keeps no photo that carries any, and stumbles over none."""

from __future__ import annotations

from io import BytesIO

import pytest
from flask import Flask
from phones import Phone
from PIL import ExifTags, Image, UnidentifiedImageError
from public_files import odd_photos, photo_of_a_place


def notes_in(data: bytes) -> dict[int, object]:
    """The EXIF that Pillow finds."""
    try:
        with Image.open(BytesIO(data)) as picture:
            return dict(picture.getexif())
    except UnidentifiedImageError:
        return {}


def test_a_place_is_refused_and_not_repeated(app: Flask) -> None:
    data = photo_of_a_place()
    with Image.open(BytesIO(data)) as picture:
        place = picture.getexif().get_ifd(ExifTags.IFD.GPSInfo)
    assert [round(float(part), 1) for part in place[ExifTags.GPS.GPSLatitude]] == [55.0, 2.0, 19.5], "the figure that is known of this photo"
    phone = Phone(app).pair()
    answer = phone.put_media(data)
    assert (answer.status_code, answer.json["error"]["code"]) == (415, "metadata")
    assert [path for path in phone.services.config.media_dir.rglob("*") if path.is_file()] == []


def test_what_is_kept_of_odd_photos_carries_nothing(app: Flask) -> None:
    phone, kept, telling = Phone(app).pair(), [], 0
    photos = odd_photos()
    assert len(photos) >= 15 and b"" in photos.values()
    for name, data in photos.items():
        for kind in ("image/jpeg", "image/png", "image/webp"):
            answer = phone.put_media(data, kind)
            assert answer.status_code in (200, 415), (name, answer.text)
        telling += bool(notes_in(data))
        if phone.put_media(data).status_code == 200:
            kept.append(name)
            assert notes_in(data) == {} and b"Exif\0" not in data, name
    assert telling >= 8 and len(kept) < len(photos) - telling + 1


@pytest.mark.parametrize("cut", [0.1, 0.5, 0.9])
def test_odd_photos_cut_short_are_refused(app: Flask, cut: float) -> None:
    phone = Phone(app).pair()
    for name, data in odd_photos().items():
        assert phone.put_media(data[: int(len(data) * cut)]).status_code == 415, name
