"""Each planted fault is caught by a written scenario or by the machine of test_sync_machine.py; without one, both pass.

BARNLIGHT_DEEP multiplies the runs a fault is given before it counts as missed.
"""

from __future__ import annotations

import os
from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis.stateful import run_state_machine_as_test
from planted import phone_faults, server_faults
from sqlalchemy.exc import IntegrityError
from test_sync_machine import DAY, DEVICES, FIELDS, RECORDS, Sync

from barnlight.sync.push import AHEAD_MS

RUNS = settings(
    max_examples=60 * int(os.environ.get("BARNLIGHT_DEEP", "1")), stateful_step_count=30, deadline=None, derandomize=True, database=None,
    phases=[Phase.generate], report_multiple_bugs=False, print_blob=False, suppress_health_check=list(HealthCheck),
)  # fmt: skip


def a_clock_far_ahead_answers_what_it_saw(run: Sync) -> None:
    """Rare in random runs: B's stamp is as late as is taken; A, with an edit that waits, sees it, answers from 400 days ahead, and its first reply is lost."""
    (mine, theirs, _), place = DEVICES, (RECORDS[0], FIELDS[0])
    run.clock_jumps(theirs, AHEAD_MS - 1)
    run.edit(theirs, *place, "a")
    run.send(theirs, reply_lost=False, copied=False, shuffled=False)
    run.edit(mine, *place, "waits")
    run.receive(mine, limit=4, lost=False)
    run.clock_jumps(mine, 400 * DAY)
    for value in "bcbcb":
        run.edit(mine, *place, value)
    run.send(mine, reply_lost=True, copied=True, shuffled=True)
    run.send(mine, reply_lost=False, copied=False, shuffled=False)
    run.a_copy_arrives_late()
    run.stored_once_and_in_order()


def somebody_asks_between_two_commits(run: Sync) -> None:
    """While the first of two senders is held at its first commit, the second is done, and a third asks."""
    first, second, reader = DEVICES
    for moment in ("before_commit", "after_commit"):
        run.edit(first, RECORDS[0], FIELDS[0], "a")
        run.edit(second, RECORDS[1], FIELDS[0], "b")
        run.two_send_at_once([first, second, reader], reader, moment)
        run.stored_once_and_in_order()


def two_edits_in_the_same_millisecond(run: Sync) -> None:
    """Both clocks say the same; the device decides, whichever came first."""
    for record, order in ((RECORDS[0], DEVICES[:2]), (RECORDS[1], DEVICES[1::-1])):
        run.time_passes(1)
        for device in order:
            run.edit(device, record, FIELDS[0], device[-1])
        for device in order:
            run.send(device, reply_lost=False, copied=False, shuffled=False)
        run.stored_once_and_in_order()


def a_refused_edit_among_others(run: Sync) -> None:
    """What is wrong with one is no harm to those beside it."""
    run.edit(DEVICES[0], RECORDS[0], FIELDS[1], "a")
    run.edit_that_will_be_refused(DEVICES[0], RECORDS[0])
    run.edit(DEVICES[0], RECORDS[1], FIELDS[1], "b")
    run.send(DEVICES[0], reply_lost=False, copied=True, shuffled=True)
    run.stored_once_and_in_order()


def a_photo_on_a_bad_line(run: Sync) -> None:
    """Cut in the middle, its answer lost, the server dead as it keeps it; freed by a phone that wants the room, at every turn."""
    phone = DEVICES[0]
    run.take_photo(phone)
    run.take_photo(phone)
    for pieces, cut_at, reply_lost in ((False, 0, False), (True, 1, False), (True, None, True), (True, None, False)):
        run.upload(phone, pieces, cut_at, reply_lost)
        run.free(phone)
        run.every_photo_is_somewhere()
    for nth in range(1, 7):
        run.server_dies_while_it_keeps_a_photo(phone, nth)
        run.free(phone)
        run.every_photo_is_somewhere()


SCENARIOS = (a_clock_far_ahead_answers_what_it_saw, somebody_asks_between_two_commits, two_edits_in_the_same_millisecond,
             a_refused_edit_among_others, a_photo_on_a_bad_line)  # fmt: skip


@pytest.mark.parametrize("scenario", SCENARIOS, ids=lambda scenario: scenario.__name__)
def test_the_written_scenarios_hold(scenario: Callable[[Sync], None]) -> None:
    played(scenario)


def played(scenario: Callable[[Sync], None]) -> None:
    """The scenario from an empty server to quiet."""
    run = Sync()
    run.begin(seed=1)
    try:
        scenario(run)
    finally:
        run.teardown()


@pytest.mark.parametrize("plant", [*server_faults.FAULTS, *phone_faults.FAULTS], ids=lambda plant: plant.__name__)
def test_a_planted_fault_is_caught(plant: Callable[[pytest.MonkeyPatch], None], monkeypatch: pytest.MonkeyPatch) -> None:
    plant(monkeypatch)
    with pytest.raises((AssertionError, IntegrityError)):  # a broken promise, or the database refusing what would break it
        for scenario in SCENARIOS:
            played(scenario)
        run_state_machine_as_test(Sync, settings=RUNS)
