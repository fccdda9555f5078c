"""Reports over HTTP: made from what the server holds, frozen, shown by links that count, run out and can be taken back."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest
from flask import Flask
from hand_clock import Hand, hand, services  # noqa: F401 - fixtures
from phones import Phone, a_photo, sha256
from pypdf import PdfReader
from report_bundle import MOMENT, Book, ident, ordered, path_of

from barnlight.report import pdf as pdf_maker
from barnlight.report.pdf import is_available
from barnlight.services import Services
from barnlight.store import devices, spaces

DAY_MS = 24 * 3600 * 1000


def test_a_measured_time_stands_on_the_page_as_the_server_measured_it(app: Flask, book: Book) -> None:
    """Source: the simulator's own truth, 20.5, 21.0 and 20.8 ms; a mark of 1/50 stands for itself (figures: old marks, sure)."""
    visit, piece = ident("visit"), ident("piece")
    data = (Path(__file__).parent / "files" / "shutter_sound" / "50th_three.wav").read_bytes()
    book.put("piece", piece, kind="lens", type="in_shutter", title="Timed lens", shutter_kind="geared_dial_set",
             speeds={"series": "older", "marks": [{"text": "1/50", "seconds": 0.02}, {"text": "1/100", "seconds": 0.01}]})
    book.put("visit", visit, piece=piece, occasion="sale", tag="A", began=MOMENT)
    book.answer(visit, "lens.shutter.fires", "in_order")
    for ordinal in (1, 2, 3):
        book.take(visit, "all three", data, ordinal=ordinal)
    book.send()
    assert book.phone.put_media(data, "audio/wav").status_code == 200
    page = app.test_client().get(path_of(ordered(book, piece=piece))).text
    settled = re.search(r'data-label="Settled">([0-9.]+)\u00a0ms<', page)
    assert settled and float(settled.group(1)) == pytest.approx(20.8, abs=0.3)
    assert 'data-label="Firings, n">3<' in page
    assert "Marked but not recorded:</b> 1/100" in page
    assert "<svg" in page and "click to click" in page


def test_marks_a_person_moved_are_named_as_such(app: Flask, book: Book, made: dict) -> None:
    page = app.test_client().get(path_of(ordered(book, session=made["session"]))).text
    # The mark was set from 0.500 to 0.522 s: 22.0 ms is the person's figure, not the machine's.
    assert "22.0\u00a0ms" in page and "1 take has marks that a person set" in page


def test_versions_count_up_and_an_old_one_never_changes(app: Flask, book: Book, made: dict) -> None:
    first = ordered(book, session=made["session"])
    before = app.test_client().get(path_of(first)).data
    book.put("piece", made["piece"], title="Renamed since")
    book.send()
    second = ordered(book, session=made["session"])
    assert (first.json["version"], second.json["version"]) == (1, 2)
    assert app.test_client().get(path_of(first) + "page").data == before
    assert "Renamed since" in app.test_client().get(path_of(second)).text
    shown = book.phone.get(f"/api/reports?session={made['session']}").json
    assert [(one["version"], one["title"]) for one in shown] == [(2, "Renamed since"), (1, "Lens of nobody")]
    pulled = [one for one in book.phone.pull(limit=500)["changes"] if one["kind"] == "publication" and one["field"] == "version"]
    assert sorted(one["value"] for one in pulled) == [1, 2]


def test_openings_are_counted_by_day_and_by_nothing_else(app: Flask, book: Book, made: dict) -> None:
    path = path_of(ordered(book, session=made["session"], recipient="Ms Nobody"))
    for _ in range(3):
        app.test_client().get(path)
    app.test_client().head(path)
    [link] = book.phone.get(f"/api/reports?session={made['session']}").json[0]["links"]
    assert (link["recipient"], link["opened"], link["last_opened_day"]) == ("Ms Nobody", 3, "2027-01-15")


def test_a_link_ends_when_taken_back_or_run_out_and_others_stay(app: Flask, book: Book, made: dict, hand: Hand) -> None:
    answer = ordered(book, session=made["session"], days=30)
    first = path_of(answer)
    second = path_of(book.phone.post(f"/api/reports/{answer.json['publication']}/links", {"days": 60}))
    links = book.phone.get(f"/api/reports?session={made['session']}").json[0]["links"]
    # Both were made in the same moment of the test's clock: the first is the one that runs out sooner.
    one = min(links, key=lambda link: link["expires_ms"])
    assert book.phone.delete(f"/api/links/{one['id']}").status_code == 204
    gone = app.test_client().get(first)
    assert gone.status_code == 410 and "taken back" in gone.text and gone.mimetype == "text/html"
    assert [app.test_client().get(first + part).status_code for part in ("style.css", "report.pdf", f"photo/{sha256(made['photo'])}.jpg")] == [410] * 3
    assert app.test_client().get(second).status_code == 200
    hand.ms += 60 * DAY_MS
    over = app.test_client().get(second)
    assert over.status_code == 410 and "ran out on 16 March 2027" in over.text
    unknown = app.test_client().get("/r/" + "x" * 32 + "/")
    assert unknown.status_code == 404 and "no report here" in unknown.text
    for closed in (gone, over, unknown):
        # The sheet of the report itself is shut behind the link, so this one stands elsewhere on the server.
        [sheet] = re.findall(r'<link rel="stylesheet" href="(/[^"]+)">', closed.text)
        assert app.test_client().get(sheet).mimetype == "text/css" and "style-src 'self'" in closed.headers["Content-Security-Policy"]
        assert "Ask whoever sent it" in closed.text


def test_a_link_gives_out_its_own_photos_only(app: Flask, book: Book, made: dict) -> None:
    other = a_photo()
    book.phone.put_media(other)
    path, buyer = path_of(ordered(book, session=made["session"])), app.test_client()
    assert buyer.get(f"{path}photo/{sha256(made['photo'])}.jpg").mimetype == "image/jpeg"
    for sha in (sha256(other), sha256(made["sound"]), "0" * 64):
        assert buyer.get(f"{path}photo/{sha}.jpg").status_code == 404


def test_a_films_photo_and_the_second_one_of_a_leak_reading_stand_where_they_belong(app: Flask, book: Book, made: dict) -> None:
    def taken(name: str, caption: str, check: str | None) -> tuple[str, bytes]:
        data = a_photo()
        book.phone.put_media(data)
        return book.photo(ident("visit"), name, data, check=check, caption=caption), data

    negative, first, second = taken("negative", "On a light table", None), taken("lit", "Lamp in", "lens.shutter.blades"), taken("unlit", "Lamp off", "lens.shutter.blades")
    book.put("film_test", ident("film"), photo=negative[0])
    book.put("leak_reading", ident("leaks"), visit=ident("visit"), photo=first[0], machine=None, region=None, marks=[],
             second={"photo": second[0], "how": "lamp_off", "machine": {"usable": True, "reasons": [], "sharpness": "sharp", "points": [], "limit_code": 1.0, "algorithm": "dark-1", "catalogue": 1}})
    book.send()
    path = path_of(ordered(book, session=made["session"]))
    page = app.test_client().get(path).text
    film = page.partition("Film made with it")[2].partition("</section>")[0]
    assert "Even" in film and "On a light table" in film and page.count("On a light table</bdi>") == 1
    number = re.search(r"<b>Photo (\d+)</b> <bdi>Lamp in", page)[1]
    assert re.search(rf"<bdi>Lamp off</bdi>\. Taken beside photo {number}, with the lamp off", page)
    for _, data in (negative, first, second):
        assert app.test_client().get(f"{path}photo/{sha256(data)}.jpg").mimetype == "image/jpeg"


def test_every_answer_behind_a_link_is_shut_to_scripts_search_and_caches(app: Flask, book: Book, made: dict) -> None:
    path, buyer = path_of(ordered(book, session=made["session"])), app.test_client()
    for part in ("", "style.css", f"photo/{sha256(made['photo'])}.jpg", "nothing"):
        headers = buyer.get(path + part).headers
        if part != "nothing":
            assert "script-src" not in headers["Content-Security-Policy"] and headers["Content-Security-Policy"].startswith("default-src 'none'")
            assert (headers["Cache-Control"], headers["Referrer-Policy"]) == ("private, no-store", "no-referrer")
            assert "noindex" in headers["X-Robots-Tag"] and headers["X-Content-Type-Options"] == "nosniff"
    page = buyer.get(path).text
    assert "<script" not in page and " style=" not in page and "http" not in re.sub(r'xmlns="[^"]*"', "", page)


def test_photos_still_on_the_phone_are_named_and_can_be_done_without(app: Flask, book: Book, made: dict) -> None:
    lost = a_photo()
    book.photo(ident("visit"), "late", lost, caption="Still on the phone")
    book.send()
    refused = ordered(book, session=made["session"])
    assert (refused.status_code, refused.json["error"]["code"], refused.json["error"]["missing"]) == (409, "media_missing", [sha256(lost)])
    page = app.test_client().get(path_of(ordered(book, session=made["session"], allow_missing=True))).text
    assert "is still on the phone that took it" in page and sha256(lost) not in page


def test_a_photo_left_out_is_said_and_not_given_out(app: Flask, book: Book, made: dict) -> None:
    book.put("photo", ident("photo"), left_out=True)
    book.send()
    path = path_of(ordered(book, session=made["session"]))
    assert "1 photo was left out by the sender (Glass)." in app.test_client().get(path).text
    assert app.test_client().get(f"{path}photo/{sha256(made['photo'])}.jpg").status_code == 404


@pytest.mark.parametrize(("order", "status", "code"), [
    ({}, 422, "bad_input"), ({"session": "0" * 32, "piece": "0" * 32}, 422, "bad_input"), ({"session": "0" * 32}, 404, "not_found"),
    ({"piece": "1" * 32, "days": 400}, 422, "bad_input"), ({"piece": "1" * 32, "days": 0}, 422, "bad_input"), ({"piece": "nobody"}, 422, "bad_input"),
])  # fmt: skip
def test_orders_that_cannot_be_are_refused_in_words(book: Book, order: dict, status: int, code: str) -> None:
    answer = ordered(book, **order)
    assert (answer.status_code, answer.json["error"]["code"]) == (status, code) and answer.json["error"]["message"]


def test_a_session_without_a_look_has_nothing_to_report(book: Book) -> None:
    book.put("session", ident("empty"), day="2026-09-12")
    book.send()
    answer = ordered(book, session=ident("empty"))
    assert (answer.status_code, answer.json["error"]["code"]) == (400, "nothing_to_report") and answer.json["error"]["hint"]


def test_another_space_can_neither_report_nor_end_links(app: Flask, services: Services, book: Book, made: dict) -> None:
    answer = ordered(book, session=made["session"])
    with services.database.write() as db:
        space = spaces.make(db, "Another shop", services.now_ms() + 1).id
        code, _ = devices.make_code(db, space, services.now_ms())
    stranger = Phone(app).pair(code)
    [link] = book.phone.get(f"/api/reports?session={made['session']}").json[0]["links"]
    assert stranger.post("/api/reports", {"session": made["session"]}).status_code == 404
    assert stranger.post(f"/api/reports/{answer.json['publication']}/links", {}).status_code == 404
    assert stranger.delete(f"/api/links/{link['id']}").status_code == 404
    assert stranger.get(f"/api/reports?session={made['session']}").json == []
    assert app.test_client().get(path_of(answer)).status_code == 200


def test_pdf_is_made_once_a_link_or_says_what_is_missing(app: Flask, book: Book, made: dict) -> None:
    path, buyer = path_of(ordered(book, session=made["session"])), app.test_client()
    answer = buyer.get(path + "report.pdf")
    if not is_available():
        assert (answer.status_code, answer.json["error"]["code"]) == (503, "no_pango") and "libpango" in answer.json["error"]["hint"]
        return
    read = PdfReader(io.BytesIO(answer.data))
    assert answer.mimetype == "application/pdf" and read.root_object["/MarkInfo"]["/Marked"]
    assert b"pdfuaid:part" in read.root_object["/Metadata"].get_data() or b":part>1" in read.root_object["/Metadata"].get_data()
    assert "Lens of nobody" in read.pages[0].extract_text()
    assert buyer.get(path + "report.pdf").data == answer.data


def test_what_the_sender_leaves_out_leaves_a_line_and_its_faults(book: Book, made: dict) -> None:
    """The verdict stays what it is, and hiding is seen. Source: handbook 10, findings and what was not checked."""
    whole = book.phone.http.get(path_of(ordered(book, piece=made["piece"])) + "page").text
    hidden = book.phone.http.get(path_of(ordered(book, piece=made["piece"], hidden_groups=["lens.shutter", "lens.glass"])) + "page").text
    assert "Left out by the sender" not in whole and 'class="chart"' in whole
    assert "Left out by the sender" in hidden and 'class="chart"' not in hidden and "photo/" not in hidden
    verdict = re.compile(r'class="panel verdict".*?</section>', re.DOTALL)
    assert verdict.search(hidden)[0] == verdict.search(whole)[0]
    assert "left out by the sender</bdi>" in hidden, "what changed since the version before names it"


def test_the_pdf_is_made_for_the_paper_asked_for(book: Book, made: dict) -> None:
    """Source: ISO 216 (A4 is 210 × 297 mm); ANSI Y14.1 letter is 8.5 × 11 in, 612 × 792 pt."""
    if not is_available():
        return
    for paper, (wide, high) in {"a4": (595.28, 841.89), "letter": (612, 792)}.items():
        pdf = book.phone.http.get(path_of(ordered(book, piece=made["piece"], paper=paper)) + "report.pdf")
        box = PdfReader(io.BytesIO(pdf.data)).pages[0].mediabox
        assert abs(float(box.width) - wide) < 1 and abs(float(box.height) - high) < 1
    assert ordered(book, piece=made["piece"], paper="foolscap").status_code == 422


def test_the_making_of_a_report_is_told_line_by_line(book: Book, made: dict) -> None:
    def lines(order: dict) -> list[dict]:
        answer = book.phone.http.post("/api/reports", json=order, headers={"X-Barnlight": "1", "Accept": "application/x-ndjson"})
        assert answer.status_code == 200 and answer.mimetype == "application/x-ndjson"
        return [json.loads(line) for line in answer.text.splitlines()]

    *steps, last = lines({"piece": made["piece"]})
    assert steps == [{"done": done, "of": 2} for done in (1, 2)], "one sound and one photo"
    assert book.phone.http.get("/r/" + last["answer"]["link"].rstrip("/").rsplit("/", 1)[1] + "/page").status_code == 200
    (refused,) = lines({"piece": "0" * 32})
    assert (refused["status"], refused["error"]["code"]) == (404, "not_found")


def test_without_pango_the_page_works_and_the_pdf_says_what_to_install(app: Flask, book: Book, made: dict, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_maker, "is_available", lambda: False)
    path, buyer = path_of(ordered(book, piece=made["piece"])), app.test_client()
    assert "Lens of nobody" in buyer.get(path).text and "Lens of nobody" in buyer.get(path + "report.html").text
    asked_by_phone = buyer.get(path + "report.pdf", headers={"Accept": "application/json"})
    assert (asked_by_phone.status_code, asked_by_phone.json["error"]["code"]) == (503, "no_pango") and "libpango" in asked_by_phone.json["error"]["hint"]
    asked_by_browser = buyer.get(path + "report.pdf", headers={"Accept": "text/html"})
    assert asked_by_browser.status_code == 503 and "Install Pango" in asked_by_browser.text and "can be printed" in asked_by_browser.text
