"""Settings: where they come from, which come first, and what is said of one that cannot be used."""

from dataclasses import fields
from pathlib import Path

import pytest

from barnlight.cli import main
from barnlight.config import Config
from barnlight.errors import ConfigError


def test_command_line_beats_environment_beats_default() -> None:
    environment = {"BARNLIGHT_PORT": "9000", "BARNLIGHT_DATA_DIR": "/data/gear", "BARNLIGHT_RATE_LIMITS": "no"}
    config = Config.load(environment, port=9001, host=None)
    assert (config.port, config.host, config.rate_limits) == (9001, "localhost", False)
    assert config.data_dir == Path("/data/gear")
    assert Config.load({}).port == 8787


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("PORT", "eighty", "whole number"),
        ("PORT", "70000", "between 1 and 65535"),
        ("RATE_LIMITS", "perhaps", "yes or no"),
        ("THREADS", "0", "at least 1"),
    ],
)
def test_a_setting_that_cannot_be_used_is_named(name: str, text: str, words: str) -> None:
    with pytest.raises(ConfigError, match=words) as refused:
        Config.load({f"BARNLIGHT_{name}": text})
    assert refused.value.field == name.lower()


def test_every_setting_says_what_it_means() -> None:
    assert all(len(each.metadata["meaning"].split()) >= 3 for each in fields(Config))


def test_address_is_what_phones_reach() -> None:
    assert Config(port=9).address == "http://localhost:9"
    assert Config(public_url="https://barn.example/").address == "https://barn.example"


def test_store_that_cannot_be_made_is_one_clear_sentence(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    (tmp_path / "file").write_text("in the way")
    assert main(["pair", "--data", str(tmp_path / "file" / "store")]) == 1
    said = capsys.readouterr().err
    assert said.startswith("barnlight: The store in") and "--data" in said and said.count("\n") == 1
