"""Files that are two things at once, that hide words or work, or that claim to be what they are not: refused in words, nothing kept."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from flask import Flask
from phones import Phone, sha256
from PIL import Image

from barnlight.media import RefusedMedia, image
from barnlight.media.containers import MOST_SCANS

FILES = Path(__file__).parent / "files"
SCRIPT = b"<html><script>alert(1)</script></html>"


def good(kind: str = "jpg") -> bytes:
    return (FILES / f"good.{kind}").read_bytes()


def segment(marker: int, body: bytes) -> bytes:
    """A part of a JPEG (ITU-T T.81, B.1.1.4)."""
    return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body


def chunk(name: bytes, body: bytes) -> bytes:
    """A part of a PNG, its checksum right."""
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def after_start(part: bytes) -> bytes:
    return good()[:2] + part + good()[2:]


def in_png(part: bytes) -> bytes:
    return good("png")[:33] + part + good("png")[33:]


def in_webp(part: bytes, name: bytes = b"junk") -> bytes:
    whole = good("webp") + struct.pack("<4sI", name, len(part)) + part + b"\0" * (len(part) % 2)
    return whole[:4] + struct.pack("<I", len(whole) - 8) + whole[8:]


def with_zip() -> bytes:
    """Opens as a photo and unpacks as a zip: readers of zips look for the end first."""
    out = io.BytesIO(good())
    with zipfile.ZipFile(out, "a") as archive:
        archive.writestr("page.html", SCRIPT)
    assert zipfile.is_zipfile(out)
    return out.getvalue()


def zip_file() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("page.html", SCRIPT)
    return out.getvalue()


def among_png_pixels(more: bytes) -> bytes:
    """Behind the end of the squeezed rows, in their own chunk, where no reader of PNGs looks."""
    at = good("png").index(b"IDAT") - 4
    (length,) = struct.unpack_from(">I", good("png"), at)
    return good("png")[:at] + chunk(b"IDAT", good("png")[at + 8 : at + 8 + length] + more) + good("png")[at + 12 + length :]


def more_rows() -> bytes:
    """The rows themselves go on below the picture, squeezed with them."""
    out = io.BytesIO()
    Image.new("L", (16, 16), 7).save(out, "PNG")
    rows = (b"\0" + bytes(16)) * 16
    return out.getvalue()[:33] + chunk(b"IDAT", zlib.compress(rows + SCRIPT)) + chunk(b"IEND", b"")


def among_jpeg_pixels(more: bytes) -> bytes:
    return good()[:-2] + more + good()[-2:]


def among_webp_pixels(more: bytes) -> bytes:
    """Behind the last pixels of the only chunk (RFC 9649, 2.5)."""
    assert good("webp")[12:16] == b"VP8 "
    pixels = good("webp")[20:] + more + b"\0" * (len(more) % 2)
    return b"RIFF" + struct.pack("<I", 12 + len(pixels)) + b"WEBPVP8 " + struct.pack("<I", len(pixels)) + pixels


def many_scans(count: int) -> bytes:
    """Sharper in steps, its last step repeated: 31 bytes each, and each a pass over all pixels."""
    out = io.BytesIO()
    Image.new("L", (64, 64), 128).save(out, "JPEG", progressive=True)
    data = out.getvalue()
    last = data[data.rindex(b"\xff\xda") : -2]
    return data[:-2] + last * count + data[-2:]


def bomb(kind: str, side: int) -> bytes:
    out = io.BytesIO()
    Image.new("L", (side, side)).save(out, kind)
    return out.getvalue()


def vast_webp() -> bytes:
    """A lossless WebP that says it is 16384 x 16384 (RFC 9649, section 3.4: 14 bits each, less one)."""
    body = b"\x2f" + struct.pack("<I", (1 << 28) - 1) + bytes(15)
    return b"RIFF" + struct.pack("<I", 12 + len(body)) + b"WEBPVP8L" + struct.pack("<I", len(body)) + body


def saved_as(kind: str) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (16, 16)).save(out, kind)
    return out.getvalue()


GIF_SCRIPT = b"GIF89a/*" + bytes(40) + b"*/=1;alert(1)//"
# name: (the bytes, by which type they are sent, why they are refused)
HOSTILE: dict[str, tuple[Callable[[], bytes], str, str]] = {
    "photo and zip": (with_zip, "image/jpeg", "metadata"),
    "page behind a photo": (lambda: good() + SCRIPT, "image/jpeg", "metadata"),
    "page in a comment": (lambda: after_start(segment(0xFE, SCRIPT)), "image/jpeg", "metadata"),
    "page in an application part": (lambda: after_start(segment(0xE5, SCRIPT)), "image/jpeg", "metadata"),
    "page in the colour part": (lambda: after_start(segment(0xEE, b"Adobe" + SCRIPT)), "image/jpeg", "metadata"),
    "page in the first part": (lambda: after_start(segment(0xE0, b"JFIF\0" + SCRIPT)), "image/jpeg", "metadata"),
    "zip among the pixels of a photo": (lambda: among_jpeg_pixels(zip_file()), "image/jpeg", "metadata"),
    "zip among the pixels of a PNG": (lambda: among_png_pixels(zip_file()), "image/png", "metadata"),
    "zip among the pixels of a WebP": (lambda: among_webp_pixels(zip_file()), "image/webp", "metadata"),
    "zip among the values of a sound": (lambda: wav(values=zip_file()), "audio/wav", "metadata"),
    "PDF in the first values of a sound": (lambda: wav(values=b"%PDF-1.7\n"), "audio/wav", "metadata"),
    "page among the pixels of a PNG": (lambda: among_png_pixels(SCRIPT), "image/png", "metadata"),
    "page in a chunk of its own among the pixels": (lambda: good("png")[:-12] + chunk(b"IDAT", SCRIPT) + good("png")[-12:], "image/png", "metadata"),
    "page squeezed below the last row": (more_rows, "image/png", "metadata"),
    "two photos in one": (lambda: good() + good(), "image/jpeg", "metadata"),
    "photo in a photo": (lambda: after_start(segment(0xE2, b"MPF\0" + good())), "image/jpeg", "metadata"),
    "profile that is a page": (lambda: after_start(segment(0xE2, b"ICC_PROFILE\0\1\1" + SCRIPT)), "image/jpeg", "metadata"),
    "script before the photo": (lambda: b"/*" + good() + b"*/alert(1)", "image/jpeg", "not_a_photo"),
    "picture that is a script": (lambda: GIF_SCRIPT, "image/gif", "kind_not_taken"),
    "picture that is a script, sent as photo": (lambda: GIF_SCRIPT, "image/jpeg", "not_a_photo"),
    "page in the brightness of a PNG": (lambda: in_png(chunk(b"gAMA", struct.pack(">I", 45455) + SCRIPT)), "image/png", "metadata"),
    "page in the palette of a PNG": (lambda: in_png(chunk(b"PLTE", SCRIPT * 30)), "image/png", "metadata"),
    "page in the end of a PNG": (lambda: good("png")[:-12] + chunk(b"IEND", SCRIPT), "image/png", "metadata"),
    "page behind a PNG": (lambda: good("png") + SCRIPT, "image/png", "metadata"),
    "squeezed words in a PNG": (lambda: in_png(chunk(b"zTXt", b"a\0\0" + zlib.compress(bytes(1 << 22)))), "image/png", "metadata"),
    "page in a WebP": (lambda: in_webp(SCRIPT), "image/webp", "metadata"),
    "places in a WebP": (lambda: in_webp(b"II*\0", b"EXIF"), "image/webp", "metadata"),
    "page behind a WebP": (lambda: good("webp") + SCRIPT, "image/webp", "metadata"),
    "work for hours": (lambda: many_scans(MOST_SCANS), "image/jpeg", "metadata"),
    "64 Mpx in 1 MB": (lambda: bomb("JPEG", 8000), "image/jpeg", "too_many_pixels"),
    "268 Mpx in a WebP of 40 bytes": (vast_webp, "image/webp", "too_many_pixels"),
    "drawing that can run": (lambda: b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>', "image/jpeg", "not_a_photo"),
    "drawing by its own name": (lambda: b"<svg/>", "image/svg+xml", "kind_not_taken"),
    "page by its own name": (lambda: SCRIPT, "text/html", "kind_not_taken"),
    "page with an empty type": (lambda: SCRIPT, "", "kind_not_taken"),
    "page as a sound": (lambda: SCRIPT, "audio/wav", "not_wav"),
    "photo as a sound": (good, "audio/wav", "not_wav"),
    "sound as a photo": (lambda: good("wav"), "image/webp", "not_a_photo"),
    **{f"{kind} as a photo": (lambda kind=kind: saved_as(kind), "image/jpeg", "not_a_photo") for kind in ("GIF", "BMP", "TIFF", "PPM", "ICO", "PDF")},
}  # fmt: skip


@pytest.mark.parametrize("case", HOSTILE)
def test_what_is_more_or_other_than_a_picture_is_refused(app: Flask, case: str) -> None:
    make, kind, code = HOSTILE[case]
    phone, data = Phone(app).pair(), make()
    answer = phone.put_media(data, kind)
    assert (answer.status_code, answer.json["error"]["code"]) == (415, code), answer.text
    assert answer.json["error"]["message"].endswith(".")
    assert phone.get(f"/api/media/{sha256(data)}").status_code == 404
    assert [path for path in phone.services.config.media_dir.rglob("*") if path.is_file()] == []


def test_as_many_scans_as_encoders_make_are_taken() -> None:
    assert image.check_photo(many_scans(MOST_SCANS - 8)).width == 64


@pytest.mark.parametrize("among", [among_jpeg_pixels, among_png_pixels, among_webp_pixels])
def test_these_zips_are_zips_to_who_looks_for_one(among: Callable[[bytes], bytes]) -> None:
    with zipfile.ZipFile(io.BytesIO(among(zip_file()))) as archive:
        assert archive.read("page.html") == SCRIPT


@pytest.mark.parametrize("mode", ["1", "L", "LA", "I;16", "RGB", "RGBA", "P"])
@pytest.mark.parametrize("size", [(1, 1), (3, 5), (9, 2), (64, 33)])
def test_a_png_of_any_depth_and_size_is_taken(mode: str, size: tuple[int, int]) -> None:
    out = io.BytesIO()
    Image.new(mode, size).save(out, "PNG")
    assert image.check_photo(out.getvalue()).width == size[0]


@pytest.mark.parametrize("size", [(1, 1), (3, 5), (5, 1), (16, 16), (33, 9)])
def test_a_png_in_seven_passes_is_taken_with_nothing_behind_them(size: tuple[int, int]) -> None:
    """Adam7 (PNG third edition, 8.1), its rows counted pixel by pixel: Pillow reads it and does not write it."""
    order = ("16462646", "77777777", "56565656", "77777777", "36463646", "77777777", "56565656", "77777777")
    rows = 0
    for step in "1234567":
        lines = [sum(order[y % 8][x % 8] == step for x in range(size[0])) for y in range(size[1])]
        rows += sum(1 + 3 * pixels for pixels in lines if pixels)
    head = good("png")[:8] + chunk(b"IHDR", struct.pack(">IIBBBBB", *size, 8, 2, 0, 0, 1))
    end = chunk(b"IEND", b"")
    assert image.check_photo(head + chunk(b"IDAT", zlib.compress(bytes(rows))) + end).width == size[0]
    with pytest.raises(RefusedMedia, match="behind the last row"):
        image.check_photo(head + chunk(b"IDAT", zlib.compress(bytes(rows + 1))) + end)


def test_a_large_photo_is_taken_up_to_the_limit() -> None:
    """60 million pixels by the floor on uploads; 7745 x 7745 is 59.99 million."""
    assert image.check_photo(bomb("PNG", 7745)).width == 7745
    with pytest.raises(RefusedMedia, match="60 million"):
        image.check_photo(bomb("PNG", 7747))


def wav(riff: int | None = None, fmt: bytes | None = None, data_bytes: int | None = None, extra: bytes = b"", before: bytes = b"", values: bytes = b"") -> bytes:
    """A second of silence at 8 kHz, its header telling what the arguments say (RIFF/WAVE, Microsoft and IBM 1991)."""
    sound = values + bytes(16_000 - len(values))
    fmt = struct.pack("<HHIIHH", 1, 1, 8000, 16_000, 2, 16) if fmt is None else fmt
    body = b"WAVE" + before + b"fmt " + struct.pack("<I", len(fmt)) + fmt + b"data" + struct.pack("<I", len(sound) if data_bytes is None else data_bytes) + sound + extra
    return b"RIFF" + struct.pack("<I", len(body) if riff is None else riff) + body


def form(tag: int = 1, channels: int = 1, rate: int = 8000, per_s: int = 16_000, align: int = 2, bits: int = 16, more: bytes = b"") -> bytes:
    return struct.pack("<HHIIHH", tag, channels, rate, per_s, align, bits) + more


LYING: dict[str, bytes] = {
    "a whole that is shorter than its parts": wav(riff=5),
    "another number of bytes a second": wav(fmt=form(per_s=77)),
    "more sound than there is": wav(data_bytes=2**31 - 1),
    "all ones": wav(data_bytes=2**32 - 1),
    "less sound than there is": wav(data_bytes=100),
    "no sound": wav(data_bytes=0),
    "half a value": wav(data_bytes=15_999),
    "no channels": wav(fmt=form(channels=0, align=0)),
    "65,535 channels": wav(fmt=form(channels=65_535, align=65_534)),
    "no bits": wav(fmt=form(bits=0, align=0)),
    "8 bits": wav(fmt=form(bits=8, align=1, per_s=8000)),
    "24 bits": wav(fmt=form(bits=24, align=3, per_s=24_000)),
    "numbers with fractions": wav(fmt=form(tag=3, bits=32, align=4, per_s=32_000)),
    "an unknown way of packing": wav(fmt=form(tag=0x55)),
    "no values a second": wav(fmt=form(rate=0)),
    "four billion values a second": wav(fmt=form(rate=2**32 - 1)),
    "a header cut short": wav(fmt=form()[:14]),
    "a header without end": wav(fmt=form())[:16] + struct.pack("<I", 2**32 - 1) + wav()[20:],
    "words in the header": wav(fmt=form(more=SCRIPT)),
    "words before the sound": wav(before=b"LIST" + struct.pack("<I", len(SCRIPT)) + SCRIPT),
    "words behind the sound": wav(extra=b"LIST" + struct.pack("<I", len(SCRIPT)) + SCRIPT),
    "a page behind the sound": wav(extra=b"<b>1</b>"),
    "a few letters behind the sound": wav(extra=b"<b>1"),
    "a second sound": wav(extra=b"data" + struct.pack("<I", len(SCRIPT)) + SCRIPT),
    "a second header": wav(before=b"fmt " + struct.pack("<I", 16) + form(rate=96_000)),
    "a page behind what it says is the end": wav(riff=16_036) + SCRIPT,
    "another kind of RIFF": wav()[:8] + b"AVI " + wav()[12:],
}  # fmt: skip


def test_the_honest_one_is_taken(app: Flask) -> None:
    assert Phone(app).pair().put_media(wav(), "audio/wav").status_code == 200


@pytest.mark.parametrize("case", LYING)
def test_a_recording_whose_header_lies_is_refused(app: Flask, case: str) -> None:
    phone = Phone(app).pair()
    answer = phone.put_media(LYING[case], "audio/wav")
    assert answer.status_code == 415, answer.text
    assert answer.json["error"]["message"].endswith(".")
    assert [path for path in phone.services.config.media_dir.rglob("*") if path.is_file()] == []
