"""A new version says what changed; an old link stays as it was, tells of the newer one, and leads there only if it may."""

from __future__ import annotations

import re

from flask import Flask
from hand_clock import Hand, hand, services  # noqa: F401 - fixtures
from phones import a_photo, sha256
from report_bundle import MOMENT, Book, ident, ordered, path_of
from werkzeug.test import TestResponse

AFTER = {**MOMENT, "ms": MOMENT["ms"] + 40 * 24 * 3600 * 1000}


def publish(book: Book, piece: str) -> TestResponse:
    answer = ordered(book, piece=piece)
    assert answer.status_code == 201, answer.text
    return answer


def repair(book: Book, made: dict) -> bytes:
    """Haze cleaned away, a photo of it, a film made since."""
    visit, picture = ident("after repair"), a_photo()
    book.put("visit", visit, piece=made["piece"], occasion="after_repair", began=AFTER)
    book.answer(visit, "lens.glass.haze", "in_order")
    book.photo(visit, "after", picture, check="lens.glass.haze", caption="After cleaning", left_out=False)
    book.put("film_test", ident("second film"), piece=made["piece"], day="2026-11-20", setup={"stop": "f/8"}, found="Sharp to the corners", photo=None)
    book.send()
    assert book.phone.put_media(picture).status_code == 200
    return picture


def words(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


def test_the_new_version_names_what_changed_and_shows_before_and_after(app: Flask, book: Book, made: dict) -> None:
    publish(book, made["piece"])
    after = repair(book, made)
    path, buyer = path_of(publish(book, made["piece"])), app.test_client()
    html = buyer.get(path).text
    said = words(html[html.index('id="since"'):])
    assert "What changed since version 1" in said
    assert re.search(r"Haze Faulty: .*? No fault seen with the lamp used", said)
    assert "Film made with it 20 November 2026 not in the report Sharp to the corners" in said
    assert "Photos 1 1: 1 new, 1 of the earlier ones not shown" in said
    pair = html[html.index("Faults put right"):]
    for photo, name in ((made["photo"], "Photo 1 of version 1"), (after, "Photo 1<")):
        assert f"photo/{sha256(photo)}.jpg" in pair and name in pair
        assert buyer.get(f"{path}photo/{sha256(photo)}.jpg").status_code == 200


def test_the_same_again_changes_nothing_and_the_first_version_has_no_before(app: Flask, book: Book, made: dict) -> None:
    first = app.test_client().get(path_of(publish(book, made["piece"]))).text
    assert 'id="since"' not in first
    again = app.test_client().get(path_of(publish(book, made["piece"]))).text
    assert "Nothing that the report says has changed." in words(again)


def test_an_old_link_tells_of_the_newer_version_and_leads_there_only_if_the_sender_lets_it(app: Flask, book: Book, made: dict) -> None:
    path, buyer = path_of(publish(book, made["piece"])), app.test_client()
    as_given = buyer.get(path).data
    repair(book, made)
    publish(book, made["piece"])
    front = buyer.get(path).text
    assert "There is a newer version of this report: version 2" in words(front) and 'href="newer/"' not in front
    assert [buyer.get(path + part).status_code for part in ("newer/", "newer/style.css")] == [404, 404]
    assert buyer.get(path + "page").data == as_given

    old = next(one for one in book.phone.get(f"/api/reports?piece={made['piece']}").json if one["version"] == 1)
    [link] = old["links"]
    assert link["leads_on"] is False
    assert book.phone.patch(f"/api/links/{link['id']}", {"leads_on": True}).status_code == 204
    assert 'href="newer/"' in buyer.get(path).text
    newer = buyer.get(path + "newer/").text
    assert "After cleaning" in newer and buyer.get(path + "newer/style.css").mimetype == "text/css"
    shown = re.findall(r"photo/([0-9a-f]{64})\.jpg", newer)
    assert shown and all(buyer.get(f"{path}newer/photo/{one}.jpg").status_code == 200 for one in shown)
    assert buyer.get(path + "page").data == as_given


def test_a_link_that_ended_leads_nowhere(app: Flask, book: Book, made: dict) -> None:
    path = path_of(publish(book, made["piece"]))
    [link] = book.phone.get(f"/api/reports?piece={made['piece']}").json[0]["links"]
    publish(book, made["piece"])
    book.phone.patch(f"/api/links/{link['id']}", {"leads_on": True})
    assert book.phone.delete(f"/api/links/{link['id']}").status_code == 204
    assert [app.test_client().get(path + part).status_code for part in ("", "page", "newer/", "newer/style.css", "report.html")] == [410] * 5


def test_every_report_of_a_piece_bears_the_number_of_the_piece(app: Flask, book: Book, made: dict) -> None:
    numbers = {re.search(r"Report ([0-9A-Z]{4}-[0-9A-Z]{4}), version", app.test_client().get(path_of(publish(book, made["piece"]))).text)[1] for _ in range(2)}
    assert len(numbers) == 1
