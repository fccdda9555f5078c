"""Two browsers and the real server, killed (SIGKILL) at random moments of push, pull and upload: nothing that was saved is lost.

BARNLIGHT_KILL_ROUNDS=50 runs 50 rounds (5 otherwise); BARNLIGHT_SEED=N runs those of that seed again, which every run prints.
After each round both phones and the server must hold the same records and history, each change once, every photo by its hash
(the promises are those of backend/barnlight/sync/README.md, "What a client may rely on").
"""

from __future__ import annotations

import os
import random
import re
import secrets
import time
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import phone_book
import pytest
from barnlight.domain import ids, merge
from bench_phone import Phone
from bench_server import Server
from cutting_line import Line, Trap
from hands import add_piece, begin_session, fill, say_not_checked, tap, unfold, wait_until_kept
from PIL import Image
from playwright.sync_api import Error, Page, expect

ROUNDS = int(os.environ.get("BARNLIGHT_KILL_ROUNDS", "5"))
SEED = int(os.environ.get("BARNLIGHT_SEED", secrets.randbelow(10**6)))
PHASES = {"push": b"POST /api/changes", "pull": b"GET /api/changes", "upload": b"PUT /api/media/"}
VICTIMS = ("server", "phone", "both")
LONGEST_DELAY_S = {"push": 0.06, "pull": 0.06, "upload": 0.25}
QUIET_WITHIN_S = 180
CHECKS = [f"lens.{name}" for name in ("glass.front", "glass.rear", "glass.coating", "glass.dust", "glass.haze", "glass.fungus", "glass.separation",
                                      "barrel.dents", "iris.moves", "iris.dry", "iris.scale", "shutter.fires", "shutter.t_and_b", "shutter.blades")]  # fmt: skip


class Hand:
    """One person with one phone on a line of their own; notes what the screen said was saved."""

    def __init__(self, phone: Phone, line: Line, chance: random.Random) -> None:
        self.phone, self.line, self.chance = phone, line, chance
        self.promised: set[str] = set()
        self.promised_files: set[str] = set()
        self.page = phone.open(line.url)

    def at(self, address: str) -> Page:
        """The phone at a screen of the app."""
        self.page.goto(f"{self.line.url}/#{address}")
        return self.page

    def noted(self) -> None:
        """The screen shows it as saved: all that lies in the database now must still be there in the end."""
        book = phone_book.of_phone(self.page)
        self.promised |= book.changes.keys()
        self.promised_files |= phone_book.named_files(book) & book.files

    def rename(self, visit: str) -> None:
        name = f"Lens {self.chance.randrange(10**6)}"
        unfold(self.at(f"/visit/{visit}"), "Name, type, format")
        fill(self.page, "Name", name)
        expect(self.page.get_by_role("heading", level=1)).to_contain_text(name)
        self.noted()

    def answer(self, visit: str, check: str) -> None:
        self.at(f"/visit/{visit}/check/{check}")
        outcome = self.page.get_by_role("group", name="What you found")
        if self.chance.random() < 0.5:
            outcome.get_by_role("button", name="In order").click()
        else:
            say_not_checked(self.page, "Too dark")
        self.at(f"/visit/{visit}/check/{check}")
        expect(outcome.locator("[aria-pressed=true]")).to_be_visible()
        self.noted()

    def take_photo(self, visit: str, check: str, file: Path) -> None:
        noise(file, self.chance)
        self.at(f"/visit/{visit}/check/{check}").get_by_label("From a file").set_input_files(file)
        expect(self.page.get_by_text("Photo kept")).to_be_visible()
        self.noted()

    def strike(self) -> None:
        """The phone dies under the person's hands."""
        self.phone.strike()

    def reopen(self) -> None:
        """A phone that died is opened again."""
        if self.phone.is_struck:
            self.phone.kill()
            self.page = self.phone.open(f"{self.line.url}/#/device")


def noise(path: Path, chance: random.Random) -> None:
    """A picture that does not shrink, so that it travels for a while and in pieces."""
    pixels = np.random.default_rng(chance.randrange(2**32)).integers(0, 255, (540, 720, 3), dtype=np.uint8)
    out = BytesIO()
    Image.fromarray(pixels).save(out, "JPEG", quality=92)
    path.write_bytes(out.getvalue())


@pytest.fixture
def chance() -> random.Random:
    print(f"\nBARNLIGHT_SEED={SEED} BARNLIGHT_KILL_ROUNDS={ROUNDS}")
    return random.Random(SEED)


@pytest.fixture
def hands(server: Server, phone: Callable[..., Phone], chance: random.Random) -> Iterator[list[Hand]]:
    """Two phones, paired; each was put away once, because a browser writes a cookie to the disk only after half a minute."""
    both = [Hand(phone(name), Line(server.port), chance) for name in ("first", "second")]
    for hand, name in zip(both, ("Barn phone", "Van phone"), strict=True):
        wait_until_kept(hand.page)
        hand.at(f"/pair/{server.pair_code()}")
        fill(hand.page, "Name of this phone or person", name)
        hand.page.get_by_role("button", name="Pair", exact=True).click()
        hand.page.wait_for_url(re.compile("#/device$"))
        hand.phone.close()
        hand.page = hand.phone.open(f"{hand.line.url}/#/device")
    yield both
    for hand in both:
        hand.line.close()


def test_nothing_saved_is_lost(server: Server, hands: list[Hand], chance: random.Random, tmp_path: Path) -> None:
    begin_session(hands[0].at("/"))
    visit = add_piece(hands[0].page, "Lens", "In a shutter")
    hands[0].noted()
    quiet(server, hands)
    for number in range(ROUNDS):
        phase, victim = list(PHASES)[number % 3], VICTIMS[(number + number // 3) % 3]
        doomed, other = chance.sample(hands, 2)
        check = CHECKS[number % len(CHECKS)]
        print(f"round {number + 1}: {victim} killed during {phase}")
        before = open_versions(server, visit, check)
        apart(hands, visit, check)
        trap = Trap(PHASES[phase], chance.randint(1, 2), chance.uniform(0, LONGEST_DELAY_S[phase]), blow(victim, server, doomed))
        if chance.random() < 0.5:
            hurried(other, lambda other=other: other.rename(visit))
        doomed.line.arm(trap)
        springs = springing(phase, doomed, visit, tmp_path / "noise.jpg")
        busy(doomed, other, visit, check, springs, tmp_path / "noise.jpg")
        until_struck(doomed, springs)
        all_back(server, hands)
        quiet(server, hands)
        equal(server, hands)
        two_versions(server, hands, visit, check, before)


def apart(hands: list[Hand], visit: str, check: str) -> None:
    """With no line, both answer the same check and rename the same piece, not knowing of each other."""
    for hand in hands:
        hand.line.cut()
    for hand in hands:
        hand.answer(visit, check)
        hand.rename(visit)
    for hand in hands:
        hand.line.mend()


def blow(victim: str, server: Server, hand: Hand) -> Callable[[], None]:
    """What happens when the trap springs."""
    def strike() -> None:
        if victim != "phone":
            server.kill()
        if victim != "server":
            hand.strike()

    return strike


def busy(doomed: Hand, other: Hand, visit: str, check: str, springs: Callable[[], None], file: Path) -> None:
    """Edits on both phones while sync is at work; the blow may fall in the middle of any of them."""
    chance = doomed.chance
    others = [one for one in CHECKS if one != check]
    edits = [lambda hand: hand.rename(visit), lambda hand: hand.answer(visit, chance.choice(others)),
             lambda hand: hand.take_photo(visit, chance.choice(others), file)]
    hurried(doomed, springs)
    for _ in range(2):
        hand, edit = chance.choice((doomed, other)), chance.choice(edits)
        hurried(hand, lambda hand=hand, edit=edit: edit(hand))


def springing(phase: str, hand: Hand, visit: str, file: Path) -> Callable[[], None]:
    """What a person does so that the requests of this phase are made."""
    def work() -> None:
        if phase == "upload":
            hand.take_photo(visit, hand.chance.choice(CHECKS), file)
        elif phase == "push":
            hand.rename(visit)
        tap(hand.at("/device"), "Ask the server now")

    return work


def hurried(hand: Hand, work: Callable[[], None]) -> None:
    """An edit that the phone's death may cut short; then the screen has promised nothing."""
    if hand.phone.is_struck:
        return
    try:
        work()
    except (Error, AssertionError):
        if not hand.phone.is_struck:
            raise


def until_struck(hand: Hand, springs: Callable[[], None]) -> None:
    """The trap springs at the latest when the person goes on working."""
    for _ in range(20):
        if hand.line.struck.wait(timeout=1.5):
            return
        hurried(hand, springs)
    raise AssertionError("the request that was waited for never came")


def all_back(server: Server, hands: list[Hand]) -> None:
    """Everything that was killed is started again."""
    for hand in hands:
        hand.line.disarm()
    if server.is_dead():
        server.start()
    for hand in hands:
        hand.reopen()


def quiet(server: Server, hands: list[Hand]) -> None:
    """Both phones ask until nothing waits and both have seen all."""
    until = time.monotonic() + QUIET_WITHIN_S
    while True:
        for hand in hands:
            tap(hand.at("/device"), "Ask the server now")
        for _ in range(10):
            books = [phone_book.of_phone(hand.page) for hand in hands]
            if all(book.waiting == 0 for book in books) and books[0].changes.keys() == books[1].changes.keys() == phone_book.of_server(server.data).changes.keys():
                return
            assert time.monotonic() < until, [(book.waiting, len(book.changes)) for book in books]
            hands[0].page.wait_for_timeout(150)


def equal(server: Server, hands: list[Hand]) -> None:
    """Phones and server hold the same, and all that any screen said was saved."""
    kept = phone_book.of_server(server.data)
    for hand in hands:
        book = phone_book.of_phone(hand.page)
        assert book.changes == kept.changes
        assert book.records == kept.records
        assert hand.promised <= kept.changes.keys(), "what the screen said was saved is there"
        assert hand.promised_files <= kept.files, "every photo's bytes are on the server"
    assert phone_book.named_files(kept) <= kept.files
    print(f"  {len(kept.changes)} changes, {len(kept.files)} photos, equal everywhere")


def open_versions(server: Server, visit: str, check: str) -> list[dict[str, Any]]:
    """The answers of the check that stand side by side."""
    record = ids.answer_id(visit, check, "")
    return merge.versions([change for change in phone_book.of_server(server.data).changes.values() if (change["record"], change["field"]) == (record, "result")])


def two_versions(server: Server, hands: list[Hand], visit: str, check: str, before: list[dict[str, Any]]) -> None:
    """Both answers given without knowing of each other are shown on both phones; one is picked, the others stay in the history.

    Busy hands of an earlier round may have left versions open: the one that had won is followed by both answers, the rest still stand.
    """
    versions = open_versions(server, visit, check)
    known = {change["id"] for change in before}
    assert sorted(change["author"] for change in versions if change["id"] not in known) == ["Barn phone", "Van phone"]
    assert {change["id"] for change in versions} & known == {change["id"] for change in before[1:]}
    shown = re.compile(f"^{len(versions)} versions")
    for hand in hands:
        expect(hand.at(f"/visit/{visit}/check/{check}").get_by_text(shown)).to_be_visible()
    picking = hands[0].page
    picking.get_by_role("button", name="This one").last.click()
    expect(picking.get_by_text(shown)).not_to_be_visible()
    hands[0].noted()
