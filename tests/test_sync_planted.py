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


def a_clock_far_ahead_answers_what_it_saw() -> None:
    """Rare in random runs: B's stamp is as late as is taken; A, with an edit that waits, sees it, answers from 400 days ahead, and its first reply is lost."""
    run, (mine, theirs, _), place = Sync(), DEVICES, (RECORDS[0], FIELDS[0])
    run.begin(seed=1)
    try:
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
    finally:
        run.teardown()


def test_a_clock_far_ahead_keeps_cause_before_effect() -> None:
    a_clock_far_ahead_answers_what_it_saw()


@pytest.mark.parametrize("plant", [*server_faults.FAULTS, *phone_faults.FAULTS], ids=lambda plant: plant.__name__)
def test_a_planted_fault_is_caught(plant: Callable[[pytest.MonkeyPatch], None], monkeypatch: pytest.MonkeyPatch) -> None:
    plant(monkeypatch)
    with pytest.raises((AssertionError, IntegrityError)):  # a broken promise, or the database refusing what would break it
        a_clock_far_ahead_answers_what_it_saw()
        run_state_machine_as_test(Sync, settings=RUNS)
