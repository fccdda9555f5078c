"""Copies by the clock: one when it is due, old ones dropped by the rule, no other file touched."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barnlight.backup import form
from barnlight.backup.keeping import Keep, kept
from barnlight.backup.schedule import Schedule
from barnlight.config import Config
from barnlight.services import Services

START = datetime(2026, 3, 2, 4, 0, tzinfo=UTC)  # a Monday


class Clock:
    """A clock that the test turns."""

    def __init__(self) -> None:
        self.now = START

    def now_ms(self) -> int:
        return int(self.now.timestamp() * 1000)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def copying(tmp_path: Path, clock: Clock) -> Iterator[Services]:
    config = Config(data_dir=tmp_path / "store", backup_dir=str(tmp_path / "copies"), backup_keep_days=3, backup_keep_weeks=2, backup_keep_months=2)
    opened = Services.open(config, clock.now_ms)
    yield opened
    opened.database.close()


def days(folder: Path) -> list[str]:
    return sorted(moment.strftime("%m-%d") for path in folder.iterdir() if (moment := form.moment_of(path.name)))


def test_a_month_of_copies_leaves_those_the_rule_names(copying: Services, clock: Clock, tmp_path: Path) -> None:
    schedule, folder = Schedule(copying), tmp_path / "copies"
    for _ in range(33):
        assert schedule.copy_if_due() is not None
        assert schedule.copy_if_due() is None
        clock.now += timedelta(days=1)
    # Last days 1, 2, 3 April; newest of the last two weeks 29 March (Sunday) and 3 April; newest of March 31 and of April 3.
    assert days(folder) == ["03-29", "03-31", "04-01", "04-02", "04-03"]


def test_foreign_files_stay_and_leftovers_go(copying: Services, clock: Clock, tmp_path: Path) -> None:
    folder = tmp_path / "copies"
    (folder / ".barnlight-backup-cut").mkdir(parents=True)
    for name in ("barnlight-mine.zip", "holiday.zip"):
        (folder / name).write_bytes(b"mine")
    Schedule(copying).copy_if_due()
    assert sorted(path.name for path in folder.iterdir()) == ["barnlight-20260302-040000.zip", "barnlight-mine.zip", "holiday.zip"]


def test_a_clock_that_was_ahead_does_not_put_off_the_next_copy(copying: Services, clock: Clock) -> None:
    schedule = Schedule(copying)
    clock.now += timedelta(days=400)
    assert schedule.copy_if_due()
    clock.now = START
    assert schedule.copy_if_due()


def test_a_failure_is_logged_and_the_thread_lives(copying: Services, tmp_path: Path, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_bytes(b"")
    broken = replace(copying, config=replace(copying.config, backup_dir=str(tmp_path / "file" / "copies")))
    schedule, waits = Schedule(broken), []
    monkeypatch.setattr(schedule._stop, "wait", lambda seconds: waits.append(seconds) or len(waits) > 2)
    schedule._run()
    assert caplog.text.count("No backup was made") == 2
    assert waits == [0.0, 3600.0, 3600.0]


MOMENTS = st.lists(st.datetimes(datetime(2020, 1, 1), datetime(2026, 1, 1)), unique=True, min_size=1, max_size=60)


@given(MOMENTS, st.integers(0, 9), st.integers(0, 9), st.integers(0, 9))
def test_the_rule_keeps_the_newest_and_is_stable(moments: list[datetime], most_days: int, weeks: int, months: int) -> None:
    keep = Keep(most_days, weeks, months)
    stay = kept(moments, keep)
    assert max(moments) in stay and stay <= set(moments)
    assert len(stay) <= max(1, most_days + weeks + months)
    assert kept(stay, keep) == stay
