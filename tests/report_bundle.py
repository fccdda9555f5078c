"""A book of every kind of record with a planted word in each private field, for the tests of the report."""

from __future__ import annotations

import hashlib
from typing import Any

import numpy as np
from phones import Phone, a_photo, sha256
from werkzeug.test import TestResponse

from barnlight.catalogue import load
from barnlight.demo.shutter_sound import one_firing
from barnlight.domain.ids import answer_id, reading_id
from barnlight.media.audio import to_wav

MOMENT = {"ms": 1_789_000_000_000, "offset_min": 120}
MARKED = {"text": "1/50", "seconds": 0.02}
PLANTED = "planted"


def ident(word: str) -> str:
    return hashlib.sha256(word.encode()).hexdigest()[:32]


def a_word(kind: str, field: str) -> str:
    """A word that is found nowhere but in the private field it was planted in."""
    return f"{PLANTED}{hashlib.sha256(f'{kind}.{field}'.encode()).hexdigest()[:12]}"


def an_amount(kind: str, field: str) -> int:
    """Money that cannot be met by chance, in the smallest unit."""
    return 700_000_000_000 + int(hashlib.sha256(f"{kind}.{field}".encode()).hexdigest()[:9], 16)


def sound(open_time_s: float, seed: int = 7) -> bytes:
    """A firing of known open time, made by the project's simulator."""
    samples, rate_hz, _ = one_firing(np.random.default_rng(seed), open_time_s=open_time_s)
    return to_wav(samples, rate_hz)


class Book:
    """Records on a phone, sent to the server when `send` is called."""

    def __init__(self, phone: Phone) -> None:
        self.phone, self.edits = phone, []

    def put(self, kind: str, record: str, /, **values: Any) -> str:
        self.edits += [self.phone.edit(kind, record, field, value) for field, value in values.items()]
        return record

    def send(self) -> None:
        results = self.phone.push(*self.edits)
        assert {result["result"] for result in results} == {"ok"}, [one for one in results if one["result"] != "ok"][:3]
        self.edits = []

    def answer(self, visit: str, check: str, outcome: str, place: str = "", faults: tuple[str, ...] = (), **more: Any) -> None:
        result = {"outcome": outcome, "faults": list(faults), "at": MOMENT, **more}
        self.put("answer", answer_id(visit, check, place), visit=visit, check=check, place=place, result=result)

    def reading(self, visit: str, check: str, reading: str, text: str, unit: str = "mm", place: str = "") -> None:
        self.put(
            "reading", reading_id(visit, check, place, reading), visit=visit, check=check, place=place, reading=reading,
            typed={"text": text, "unit": unit}, instrument={"kind": "caliper", "resolution_mm": 0.05}, at=MOMENT,
        )  # fmt: skip

    def photo(self, visit: str, name: str, data: bytes, **more: Any) -> str:
        file = {"hash": sha256(data), "type": "image/jpeg", "bytes": len(data), "width": 64, "height": 48}
        return self.put("photo", ident(name), visit=visit, place="", file=file, taken=MOMENT, origin="camera", **more)

    def take(self, visit: str, name: str, data: bytes, *, cold: bool = False, ordinal: int = 1) -> str:
        file = {"hash": sha256(data), "type": "audio/wav", "bytes": len(data), "rate_hz": 48_000, "duration_ms": 1000.0}
        recording = self.put("recording", ident(f"recording {name}"), visit=visit, file=file, made=MOMENT, origin="microphone")
        return self.put(
            "take", ident(f"take {name} {cold} {ordinal}"), visit=visit, recording=recording, at=MOMENT,
            intent={"marked": MARKED, "cold": cold, "ordinal": ordinal}, conditions={"stop": "f/5.6", "celsius": 18},
        )  # fmt: skip


def plant_everything(book: Book) -> dict[str, Any]:
    """A session with a lens, every kind of record round it, and a word in each field that the catalogue calls private.

    Returns {session, piece, photo, sound: bytes, words}.
    """
    picture, firing = a_photo(), sound(0.021)
    session, piece, visit, seller = (ident(word) for word in ("session", "piece", "visit", "seller"))
    say = a_word
    money = {field: {"minor": an_amount(*field.split(".")), "currency": "EUR"} for field in PRIVATE_MONEY}
    book.put(
        "seller", seller, name=say("seller", "name"), venue_kind=say("seller", "venue_kind"), place=say("seller", "place"),
        note=say("seller", "note"), same_as=ident("another seller"),
    )
    book.put(
        "session", session, title=say("session", "title"), seller=seller, place=say("session", "place"), day="2026-09-12", venue_kind="fair",
        asking=money["session.asking"], note=say("session", "note"), began=MOMENT, remote=False,
    )
    book.put("piece", piece, kind="lens", type="in_shutter", title="Lens of nobody", shutter_kind="geared_dial_set", format="4x5",
             speeds={"series": "older", "marks": [MARKED]}, marks=[{"place": "front rim", "text": "Nobody 5.6/210"}], note=say("piece", "note"))
    book.put("visit", visit, session=session, piece=piece, occasion="sale", tag="A", asking=money["visit.asking"], began=MOMENT, note=say("visit", "note"))
    book.answer(visit, "lens.glass.haze", "faulty", faults=(FAULT_OF_HAZE,))
    book.put("answer", answer_id(visit, "lens.glass.haze", ""), note=say("answer", "note"))
    book.put("claim", ident("claim"), piece=piece, visit=visit, check="lens.glass.fungus", place="", asserted={"outcome": "in_order", "faults": []},
             words=say("claim", "words"), day="2026-09-11", by="seller", evidence="words")
    book.reading(visit, "lens.fit.focal", "focal_marked", "210")
    photo = book.photo(visit, "photo", picture, check="lens.glass.haze", caption="Lamp through", left_out=False)
    book.put("spot", ident("spot"), photo=photo, at={"x": 0.5, "y": 0.25}, label="veil")
    take = book.take(visit, "one", firing)
    book.put("mark", ident("mark"), take=take, moved={"open_s": 0.5, "close_s": 0.522, "at": MOMENT})
    book.put("repair", ident("repair"), piece=piece, remedy="shutter_service", who=say("repair", "who"), back="2026-10-01",
             cost=money["repair.cost"], what="Shutter cleaned", note=say("repair", "note"))
    book.put("film_test", ident("film"), piece=piece, day="2026-10-20", setup={"stop": "f/16"}, found="Even", photo=None)
    book.put("dealing", ident("dealing"), seller=seller, session=session, piece=piece, day="2026-09-13", outcome="unfair",
             facets={say("dealing", "facets").translate(str.maketrans("0123456789", "abcdefghij")): "no"}, knew="hid_it", note=say("dealing", "note"))
    book.put("price_note", ident("price"), what=say("price_note", "what"), group=say("price_note", "group"), day="2026-01-01", price=money["price_note.price"],
             sold=True, state="working", venue_kind=say("price_note", "venue_kind"), note=say("price_note", "note"))
    book.put("deal", ident("deal"), piece=piece, session=session, decision={"bought": True, "reason": say("deal", "decision")}, paid=money["deal.paid"], day="2026-09-14")
    terms = {"currency": "EUR", "word": say("deal", "terms")}
    book.put("deal", ident("deal"), terms=terms)
    book.put("money_habits", ident("habits"), habits={"currency": "EUR", "word": say("money_habits", "habits")})
    book.put("inquiry", ident("inquiry"), piece=piece, asked={"language": "de", "questions": [], "word": say("inquiry", "asked")}, return_until="2026-09-30",
             returns={"allowed": "yes", "words": say("inquiry", "returns")}, replies={"all_words": {"words": say("inquiry", "replies")}})
    book.put("want", ident("want"), what=say("want", "what"), group=say("want", "group"), most=money["want.most"], why=say("want", "why"), piece=piece)
    book.put("kit_item", ident("kit"), kind="camera", title=say("kit_item", "title"), facts={"name": say("kit_item", "facts")})
    cost = an_amount("remedy_cost", "cost")
    book.put("remedy_cost", ident("cost"), remedy="shutter_service", cost={"currency": "EUR", "low_minor": cost, "likely_minor": cost, "high_minor": cost})
    book.send()
    assert book.phone.put_media(picture).status_code == 200 and book.phone.put_media(firing, "audio/wav").status_code == 200
    return {"session": session, "piece": piece, "photo": picture, "sound": firing}


def ordered(book: Book, **order: object) -> TestResponse:
    """The answer to an order for a report."""
    return book.phone.post("/api/reports", order)


def path_of(answer: TestResponse) -> str:
    """Where the report of that answer is read."""
    assert answer.status_code == 201, answer.text
    return "/r/" + answer.json["link"].rstrip("/").rsplit("/", 1)[1] + "/"


PRIVATE_MONEY = ("session.asking", "visit.asking", "repair.cost", "price_note.price", "deal.paid", "want.most")
FAULT_OF_HAZE = next(check["faults"][0]["id"] for check in load()["checks"] if check["id"] == "lens.glass.haze")


def secrets_planted() -> dict[str, list[str]]:
    """Kind.field -> texts that must not leave, for every field that records.json calls private.

    Days, outcomes and ids that a report may hold for other reasons are found by other means: see the test.
    """
    found: dict[str, list[str]] = {}
    for kind, about in load()["records"]["kinds"].items():
        for field in about["private"]:
            name = f"{kind}.{field}"
            found[name] = [str(an_amount(kind, field))] if name in PRIVATE_MONEY or name == "remedy_cost.cost" else [a_word(kind, field)]
    found["dealing.facets"] = [a_word("dealing", "facets").translate(str.maketrans("0123456789", "abcdefghij"))]
    found |= {"dealing.day": ["2026-09-13", "13 September 2026"], "deal.day": ["2026-09-14", "14 September 2026"]}
    found |= {"inquiry.return_until": ["2026-09-30", "30 September 2026"]}
    found |= {"dealing.outcome": ["unfair"], "dealing.knew": ["hid_it", "Hid it"], "session.seller": [ident("seller")], "seller.same_as": [ident("another seller")]}
    return found
