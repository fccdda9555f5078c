"""The demo command: loads each story once, leaves what is there, and says what is wrong with a damaged one."""

import json
from pathlib import Path

import pytest

from barnlight.commands import demo
from barnlight.errors import BarnlightError
from barnlight.services import Services
from barnlight.store import records


def story(folder: Path, name: str, number: int, **broken: object) -> None:
    """A story of one session record with one field."""
    ident = f"{number:032x}"
    change = {
        "id": ident, "space": "0" * 32, "kind": "session", "record": ident, "field": "title", "value": name,
        "stamp": f"{1_700_000_000_000 + number:015d}.000000.{'d' * 32}", "base": None, "device": "d" * 32, "author": "demo", "settles": [], "schema": 1,
    }  # fmt: skip
    document = {"format": "barnlight-export", "version": 1, "made_by": "test", "about": name, "changes": [change | broken], "media": []}
    (folder / name).mkdir(parents=True)
    (folder / name / "barnlight-export.json").write_text(json.dumps(document))


def titles(services: Services) -> list[str]:
    with services.database.read() as db:
        return sorted(record["fields"]["title"]["value"] for record in records.load(db, services.space(), "session"))


def test_each_story_is_loaded_once(services: Services, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    folder = tmp_path / "stories"
    story(folder, "barn", 1)
    story(folder, "attic", 2)
    demo.load(services, folder)
    assert titles(services) == ["attic", "barn"]
    assert capsys.readouterr().out.count("Loaded") == 2
    demo.load(services, folder)
    assert titles(services) == ["attic", "barn"]
    assert capsys.readouterr().out == ""


def test_a_damaged_story_is_named(services: Services, tmp_path: Path) -> None:
    story(tmp_path / "stories", "broken", 3, stamp="yesterday")
    with pytest.raises(BarnlightError, match="broken is damaged: 1 changes"):
        demo.load(services, tmp_path / "stories")


def test_a_folder_without_stories_says_what_to_do(services: Services, tmp_path: Path) -> None:
    with pytest.raises(BarnlightError, match="no sample sessions") as refused:
        demo.load(services, tmp_path)
    assert "--from" in refused.value.hint
