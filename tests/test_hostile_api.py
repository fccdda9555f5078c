"""Every operation of the served OpenAPI is called with what its description allows and with what it forbids: no crash, no breach of it.

The calls and the judgement of the answers come from outside: schemathesis 4.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from flask import Flask
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from hypothesis.errors import Unsatisfiable
from phones import FROM_APP, Phone, a_photo, sha256
from report_bundle import Book, plant_everything
from schemathesis.core.failures import FailureGroup
from schemathesis.specs.openapi.checks import positive_data_acceptance

from barnlight.app import create_app
from barnlight.config import Config
from barnlight.services import Services

EXAMPLES = 10  # of each kind for each operation
HEADERS = {**FROM_APP, "Accept-Encoding": "identity"}  # squeezed answers have a test of their own
MODES = list(schemathesis.GenerationMode)


# Judged by more than a schema can say: calls of the right form may well be refused with 400, 415 or 422.
BY_MEANING = {
    "POST /api/pair": "the code must be one that was given out",
    "PUT /api/media/{sha256}": "the bytes must be a clean photo or sound of that hash",
    "GET /api/recordings/{sha256}/measure": "the mark must be a speed",
    "POST /api/reports": "a session or a piece, not both",
    "GET /api/reports": "a session or a piece, not both",
}


def carrying(token: str) -> type:
    """How a paired device is known; schemathesis also leaves it away, and makes one up."""

    class Cookie:
        def get(self, _case: schemathesis.Case, _context: schemathesis.AuthContext) -> str:
            return token

        def set(self, case: schemathesis.Case, data: str, _context: schemathesis.AuthContext) -> None:
            case.cookies = {"barnlight": data}

    return Cookie


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    services = Services.open(Config(data_dir=tmp_path_factory.mktemp("store"), rate_limits=False))
    yield create_app(services)
    services.database.close()


@pytest.fixture(scope="module")
def known(app: Flask) -> dict[str, list[str]]:
    """What the placeholders of addresses may stand for, so that the calls get beyond "there is no such thing"."""
    phone, data = Phone(app).pair(), a_photo()
    other = Phone(app).pair()
    made = plant_everything(Book(phone))
    report = phone.post("/api/reports", {"session": made["session"]}).json
    phone.put_media(data)
    # One link is there to be read, another to be taken back.
    phone.post(f"/api/reports/{report['publication']}/links", {"recipient": "another"})
    link = phone.get(f"/api/reports?session={made['session']}").json[0]["links"][1]["id"]
    return {
        "cookie": [phone.http.get_cookie("barnlight").value], "device": [other.device], "sha256": [sha256(data), sha256(made["sound"]), sha256(made["photo"])],
        "publication": [report["publication"]], "link": [link], "token": [report["link"].rstrip("/").rsplit("/", 1)[1]],
    }  # fmt: skip


def test_the_api_keeps_to_its_description(app: Flask, known: dict[str, list[str]], subtests: pytest.Subtests) -> None:
    schema = schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    schema.auth(refresh_interval=None)(carrying(known["cookie"][0]))
    operations = [found.ok() for found in schema.get_all_operations()]
    assert set(BY_MEANING) < {operation.label for operation in operations}
    for operation in operations:
        for mode in MODES:
            with subtests.test(operation=operation.label, mode=mode.value):
                call_it(operation, mode, known)


def call_it(operation: Any, mode: schemathesis.GenerationMode, known: dict[str, list[str]]) -> None:
    @settings(
        max_examples=EXAMPLES, deadline=None, derandomize=True, database=None, phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(case=operation.as_strategy(generation_mode=mode), data=st.data())
    def each(case: schemathesis.Case, data: st.DataObject) -> None:
        for name in case.path_parameters or {}:
            if name in known and data.draw(st.booleans()):
                case.path_parameters[name] = data.draw(st.sampled_from(known[name]))
        case.call_and_validate(headers=HEADERS, excluded_checks=[positive_data_acceptance] if operation.label in BY_MEANING else [])

    try:
        each()
    except Unsatisfiable:  # nothing to say, so nothing to say wrongly
        assert mode is schemathesis.GenerationMode.NEGATIVE
    except FailureGroup as found:
        pytest.fail("\n".join(f"{failure}" for failure in found.exceptions))
