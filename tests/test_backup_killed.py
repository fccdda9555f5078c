"""`restore --replace` killed at every step it takes on the disk: the old store or the new one is in its place at the next start, and the old one is never lost."""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
import sqlite3
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from phones import Phone

from barnlight.backup.restoring import kept_before
from barnlight.backup.writing import write_backup
from barnlight.cli import main

# What Python says before it changes something on the disk (Python's table of audit events).
STEPS = ("open", "os.mkdir", "os.remove", "os.rename", "os.rmdir", "sqlite3.connect", "shutil.copytree")
KILLED = 9


def changes_in(folder: Path) -> int:
    with contextlib.closing(sqlite3.connect(folder / "barnlight.sqlite3")) as database:
        return database.execute("SELECT count(*) FROM changes").fetchone()[0]


def run(*words: str, killed_at: int = 0, below: Path | None = None) -> int:
    """The command in a process of its own, which ends for good at that step below the folder; its exit code."""
    child = os.fork()
    if child == 0:
        left = killed_at

        def count(event: str, given: tuple) -> None:
            nonlocal left
            if event in STEPS and given and str(given[0]).startswith(str(below)) and not (event == "open" and given[1] == "r"):
                left -= 1
                if left == 0:
                    os._exit(KILLED)

        sys.addaudithook(count)
        code = main(words)
        sys.stderr.flush()
        os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


@pytest.fixture
def old_and_copy(app: Flask, tmp_path: Path) -> Iterator[tuple[Path, Path]]:
    """A store of three changes that is not served, and a copy of it made when it had two."""
    phone = Phone(app).pair()
    for _ in range(2):
        phone.push(phone.edit("session", secrets.token_hex(16), "title", "Barn"))
    copy = write_backup(phone.services, tmp_path / "copy.zip").path
    phone.push(phone.edit("session", secrets.token_hex(16), "title", "Later"))
    phone.services.database.close()
    (phone.services.config.tls_dir).mkdir(mode=0o700)
    (phone.services.config.tls_dir / "authority.pem").write_text("trusted")
    yield phone.services.config.data_dir, copy


@pytest.mark.skipif(not hasattr(os, "fork"), reason="2026-11-29: only there can a process be copied and killed so often")
@pytest.mark.filterwarnings("ignore:.*use of fork:DeprecationWarning")
def test_killed_at_any_step_a_whole_store_is_in_its_place(old_and_copy: tuple[Path, Path], tmp_path: Path, capfd: pytest.CaptureFixture) -> None:
    old, copy = old_and_copy
    seen, unfinished = [], []
    for step in range(1, 500):
        here = tmp_path / f"try {step}"
        place = here / "store"
        shutil.copytree(old, place)
        ended = run("restore", str(copy), "--data", str(place), "--replace", killed_at=step, below=here)
        if not place.exists():
            unfinished.append(place)
            capfd.readouterr()
            assert run("devices", "--data", str(place)) == 0
            assert "it is finished now" in capfd.readouterr().err
        found, before = changes_in(place), [changes_in(each) for each in kept_before(place)]
        assert (found, before) in ((3, []), (2, [3])), f"killed at step {step}"
        assert (place / "tls" / "authority.pem").read_text() == "trusted", "phones go on trusting this computer"
        if seen and seen[-1] != found:  # the last moment before, in which most lies about
            last = here.with_name(f"try {step - 1}") / "store"
            assert run("restore", str(copy), "--data", str(last), "--replace") == 0, "it can be tried again"
            assert changes_in(last) == 2
        seen.append(found)
        if ended != KILLED:
            break
    assert ended == 0 and seen == sorted(seen, reverse=True) and set(seen) == {2, 3}
    assert len(unfinished) == 1, "one kill falls between the old store's going and the new one's coming"


def test_a_restore_that_cannot_take_the_place_leaves_all_as_it_was(
    old_and_copy: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk refuses the one rename, then the other."""
    place, copy = old_and_copy
    there, rename = sorted(tmp_path.rglob("*")), Path.rename
    for refused in (place.name, f".barnlight-restored-{place.name}"):
        def one_fails(self: Path, target: Path, refused: str = refused) -> Path:
            if self.name == refused and (refused == place.name or target == place):
                raise PermissionError(13, "refused")
            return rename(self, target)

        monkeypatch.setattr(Path, "rename", one_fails)
        assert main(["restore", str(copy), "--data", str(place), "--replace"]) == 1
        assert sorted(tmp_path.rglob("*")) == there
    assert changes_in(place) == 3


def test_a_restore_into_the_folder_one_stands_in(old_and_copy: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place, copy = old_and_copy
    monkeypatch.chdir(place)
    assert main(["restore", str(copy), "--data", ".", "--replace"]) == 0
    assert (changes_in(place), [changes_in(each) for each in kept_before(place)]) == (2, [3])
