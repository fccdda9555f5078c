"""Changes from a hostile or broken device: whatever JSON stands in whatever part, each gets a result and none a crash."""

from __future__ import annotations

import json
import secrets
from typing import Any

from flask import Flask
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from phones import Phone

from barnlight.store.kinds import declared
from barnlight.sync.validate import MESSAGES

scalars = st.none() | st.booleans() | st.integers(-(2**70), 2**70) | st.floats() | st.text(max_size=40) | st.text("\0\ud800a\n", max_size=4)
anything = st.recursive(scalars, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4), max_leaves=12)
kinds = declared()["kinds"]
fields = st.sampled_from([(kind, field) for kind, shape in kinds.items() for field in shape["fields"]])
PARTS = ["id", "space", "kind", "record", "field", "value", "stamp", "base", "settles", "device", "author", "schema", "number", "more"]


@given(place=fields, value=anything, part=st.sampled_from(PARTS), spoiled=anything)
@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
def test_every_change_gets_a_result(app: Flask, place: tuple[str, str], value: Any, part: str, spoiled: Any) -> None:
    phone = app.extensions.get("a phone") or app.extensions.setdefault("a phone", Phone(app).pair())
    edit = phone.edit(place[0], secrets.token_hex(16), place[1], value)
    for sent in (edit, {**edit, "id": secrets.token_hex(16), part: spoiled}, spoiled):
        [result] = phone.push(sent)
        assert result["result"] in ("ok", "deferred", "duplicate", "refused")
        if result["result"] == "refused":
            assert result["reason"] in MESSAGES and result["message"]
        else:
            [stored] = phone.pull(result["number"] - 1)["changes"]
            assert json.dumps(stored["value"]) == json.dumps(sent["value"]), "what is taken is kept exactly"


def test_a_value_that_is_allowed_is_allowed_for_every_kind(app: Flask) -> None:
    """A check that refuses everything would pass the other tests: each kind takes its plainest values."""
    phone, plain = Phone(app).pair(), {"deleted": True}
    for kind, shape in kinds.items():
        if not shape.get("server_only"):
            [result] = phone.push(*[phone.edit(kind, secrets.token_hex(16), field, value) for field, value in plain.items()])
            assert result["result"] == "ok", kind
