"""Script in every text of every kind of record comes over by sync to a phone: each screen shows it as words, and nothing runs."""

from __future__ import annotations

import secrets
import sys
from collections.abc import Callable
from typing import Any

from bench_phone import Phone
from bench_server import ROOT, Server
from demo_screens import known_records, screens, show
from hands import pair
from playwright.sync_api import Page

sys.path.append(str(ROOT / "tests"))
from test_hostile_words import PAYLOADS, example, put_words, texts_of_every_kind  # noqa: E402

from barnlight.catalogue import load  # noqa: E402
from barnlight.domain import clock  # noqa: E402

# Elements that no screen of the app is built with; a word that became one of them has run or could.
FOREIGN = "document.querySelectorAll('script:not([src]), iframe, object, embed, base, [onload], [onerror], [onfocus], a[href^=\"javascript\" i]').length"
WATCH = "window.ran = []; window.alert = (one) => window.ran.push(one);"


def speak_script(page: Page, server: Server, records: dict[str, dict[str, dict[str, Any]]]) -> int:
    """Sets every text of the book to script, as a paired device of a malicious helper could. Returns how many fields."""
    me = page.request.get(f"{server.url}/api/me").json()
    stamp, edits, device = None, [], secrets.token_hex(16)
    for (kind, field), places in texts_of_every_kind().items():
        for record, held in records.get(kind, {}).items():
            value = held.get(field) or example(load()["records"]["kinds"][kind]["fields"][field])
            for path, longest in places:
                value = put_words(value, path, PAYLOADS[len(edits) % len(PAYLOADS)][:longest])
            stamp = clock.tick(stamp, me["now_ms"], device)
            edits.append({
                "id": secrets.token_hex(16), "space": me["space"], "kind": kind, "record": record, "field": field, "value": value, "stamp": stamp,
                "base": None, "settles": [], "device": device, "author": PAYLOADS[len(edits) % len(PAYLOADS)][:80], "schema": 1,
            })  # fmt: skip
    for start in range(0, len(edits), 200):
        answer = page.request.post(f"{server.url}/api/changes", data={"changes": edits[start : start + 200]}, headers={"X-Barnlight": "1"})
        assert {result["result"] for result in answer.json()["results"]} == {"ok"}
    return len(edits)


def test_every_screen_shows_script_as_words(demo_server: Server, phone: Callable[..., Phone]) -> None:
    attacker, mine = phone("attacker").open(demo_server.url), phone("mine")
    pair(attacker, demo_server, "Attacker")
    every = screens(attacker, demo_server)
    assert speak_script(attacker, demo_server, known_records(attacker, demo_server)) > 100
    page = mine.open(demo_server.url, before=WATCH)
    pair(page, demo_server, "<img src=x onerror=alert(1)>")
    page.on("dialog", lambda dialog: page.evaluate("window.ran.push('dialog')"))
    shown = 0
    for screen in every:
        show(page, demo_server, screen if screen.then is None else type(screen)(screen.name, screen.address))
        assert (page.evaluate("window.ran"), page.evaluate(FOREIGN)) == ([], 0), screen.name
        shown += any(payload[:20] in page.locator("body").inner_text() for payload in PAYLOADS)
    assert shown >= 8, "the words must have come over, or nothing was tried"
    # A mark of no speed is refused by the server, which the browser notes; what it would say of script begins otherwise.
    assert [one for one in mine.complaints if not one.startswith("Failed to load resource")] == []
