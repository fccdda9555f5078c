"""Nothing private leaves by a report: a word is planted in every private field and looked for in all that a link gives out."""

from __future__ import annotations

import io
import json

import pytest
from flask import Flask
from phones import Phone
from pypdf import PdfReader
from report_bundle import Book, plant_everything, secrets_planted

from barnlight.catalogue import load
from barnlight.report.pdf import is_available
from barnlight.services import Services
from barnlight.store.models import Publication


@pytest.fixture(scope="module")
def planted() -> dict[str, list[str]]:
    return secrets_planted()


def test_every_private_field_of_the_catalogue_is_planted(planted: dict[str, list[str]], app: Flask) -> None:
    book = Book(Phone(app).pair())
    plant_everything(book)
    sent = json.dumps(book.phone.pull()["changes"])
    private = {f"{kind}.{field}" for kind, about in load()["records"]["kinds"].items() for field in about["private"]}
    assert set(planted) == private and len(private) >= 30
    # Words that only a person reads ("13 September 2026") stand beside what was stored.
    assert [name for name, texts in planted.items() if texts[0] not in sent] == []


def test_nothing_private_is_in_anything_a_link_gives_out(planted: dict[str, list[str]], app: Flask, services: Services) -> None:
    phone = Phone(app, "Phone of the secretive one").pair()
    made = plant_everything(Book(phone))
    for about in ({"session": made["session"]}, {"piece": made["piece"]}):
        answer = phone.post("/api/reports", {**about, "recipient": "Recipient of the report"})
        assert answer.status_code == 201, answer.text
        token = answer.json["link"].rstrip("/").rsplit("/", 1)[1]
        given = given_out(app, services, token, answer.json["publication"])
        assert "Lens of nobody" in given["page"] and "Shutter cleaned" in given["page"], "the report itself is there"
        for name, texts in planted.items():
            for text in [*texts, "Phone of the secretive one", "Recipient of the report", "A tester"]:
                assert [part for part, content in given.items() if text.lower() in content.lower()] == [], f"{name}: {text}"


def given_out(app: Flask, services: Services, token: str, publication: str) -> dict[str, str]:
    """Everything behind a link as text: page, style, frozen view, headers, file names, PDF bytes, text and metadata."""
    buyer = app.test_client()
    page = buyer.get(f"/r/{token}/")
    with services.database.read() as db:
        frozen = db.get_one(Publication, publication)
    given = {
        "page": page.text, "style": buyer.get(f"/r/{token}/style.css").text, "view": json.dumps(frozen.view, ensure_ascii=False),
        "title": frozen.title, "headers": str(page.headers), "photos": " ".join(frozen.media),
    }  # fmt: skip
    given["photo"] = buyer.get(f"/r/{token}/photo/{frozen.media[0]}.jpg").data.decode("latin-1")
    whole = buyer.get(f"/r/{token}/report.html")
    asked = buyer.post("/evidence/", data={"file": (io.BytesIO(whole.data), "copy.html")}, content_type="multipart/form-data")
    given |= {"one file": whole.text, "one file headers": str(whole.headers), "evidence": asked.text}
    pdf = buyer.get(f"/r/{token}/report.pdf")
    given["PDF headers"] = str(pdf.headers)
    if is_available():
        reader = PdfReader(io.BytesIO(pdf.data))
        given |= {"PDF bytes": pdf.data.decode("latin-1"), "PDF text": " ".join(page.extract_text() for page in reader.pages), "PDF data": str(reader.metadata)}
    return given
