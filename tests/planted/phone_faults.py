"""Faults of the phone's side of sync, planted in the model of a phone that the machine runs."""

from __future__ import annotations

from typing import Any

import pytest
from model_phone import ModelPhone

from barnlight.domain import clock

Patch = pytest.MonkeyPatch


def received_stamps_not_merged(patch: Patch) -> None:
    received = ModelPhone.received

    def deaf(self: ModelPhone, page: dict[str, Any], now_ms: int) -> None:
        held = self.clock
        received(self, page, now_ms)
        self.clock = held

    patch.setattr(ModelPhone, "received", deaf)


def clock_not_kept(patch: Patch) -> None:
    edit = ModelPhone.edit

    def forgetful(self: ModelPhone, *given: Any, **more: Any) -> dict[str, Any]:
        self.clock = None
        return edit(self, *given, **more)

    patch.setattr(ModelPhone, "edit", forgetful)


def clock_lowered_while_edits_wait(patch: Patch) -> None:
    edit = ModelPhone.edit

    def lowering(self: ModelPhone, record: str, field: str, value: Any, now_ms: int, number: int, **more: Any) -> dict[str, Any]:
        self.clock = clock.tick(None, now_ms, self.device) if self.outbox else self.clock
        return edit(self, record, field, value, now_ms, number, **more)

    patch.setattr(ModelPhone, "edit", lowering)


def outbox_cleared_on_send(patch: Patch) -> None:
    of_field = ModelPhone.edit

    def sent_and_forgotten(self: ModelPhone, *given: Any, **more: Any) -> dict[str, Any]:
        made = of_field(self, *given, **more)
        self.outbox[:] = [made["id"]]  # the one before was sent, answered or not
        return made

    patch.setattr(ModelPhone, "edit", sent_and_forgotten)


def cursor_moved_without_its_rows(patch: Patch) -> None:
    received = ModelPhone.received

    def cut_short(self: ModelPhone, page: dict[str, Any], now_ms: int) -> None:
        received(self, {**page, "changes": page["changes"][:2]}, now_ms)

    patch.setattr(ModelPhone, "received", cut_short)


def pull_overwrites_what_waits(patch: Patch) -> None:
    received = ModelPhone.received

    def overwriting(self: ModelPhone, page: dict[str, Any], now_ms: int) -> None:
        received(self, page, now_ms)
        places = {(change["record"], change["field"]) for change in page["changes"]}
        for change in [one for one in self.outbox if (self.history[one]["record"], self.history[one]["field"]) in places]:
            self.outbox.remove(change)
            del self.history[change]

    patch.setattr(ModelPhone, "received", overwriting)


def new_stamp_not_taken_over(patch: Patch) -> None:
    told = ModelPhone.told
    patch.setattr(ModelPhone, "told", lambda self, results: told(self, [{k: v for k, v in one.items() if k != "stamp"} for one in results]))


def photo_freed_on_send(patch: Patch) -> None:
    upload = ModelPhone.upload

    def hasty(self: ModelPhone, put: Any) -> None:
        def put_and_forget(photo: str, data: bytes) -> bool:
            del self.photos[photo]
            return put(photo, data)

        if self.waiting and self.waiting[0] not in self.photos:
            self.waiting.pop(0)
        upload(self, put_and_forget)

    patch.setattr(ModelPhone, "upload", hasty)


def photo_confirmed_by_whatever_came_back(patch: Patch) -> None:
    def trusting(self: ModelPhone, put: Any) -> None:
        if self.waiting:
            self.confirmed.add(self.waiting[0])
            put(self.waiting[0], self.photos[self.waiting.pop(0)])

    patch.setattr(ModelPhone, "upload", trusting)


FAULTS = [
    received_stamps_not_merged, clock_not_kept, clock_lowered_while_edits_wait, outbox_cleared_on_send, cursor_moved_without_its_rows,
    pull_overwrites_what_waits, new_stamp_not_taken_over, photo_freed_on_send, photo_confirmed_by_whatever_came_back,
]  # fmt: skip
