"""The devices command: a lost phone is found by its name and shut out from the server's own terminal."""

from __future__ import annotations

import pytest
from flask import Flask
from phones import Phone

from barnlight.cli import main


def test_a_lost_phone_is_listed_and_shut_out(app: Flask, capsys: pytest.CaptureFixture) -> None:
    kept, lost = Phone(app, "Kept").pair(), Phone(app, "Lost at the sale").pair()
    data = ["--data", str(kept.services.config.data_dir)]
    assert main(["devices", *data]) == 0
    [line] = [line for line in capsys.readouterr().out.splitlines() if "Lost at the sale" in line]
    assert main(["devices", "--revoke", line.split()[0], *data]) == 0
    assert (kept.get("/api/me").status_code, lost.get("/api/me").status_code) == (200, 401)
    assert "Lost at the sale is shut out" in capsys.readouterr().out
    assert main(["devices", *data]) == 0
    [line] = capsys.readouterr().out.splitlines()
    assert "Kept" in line


@pytest.mark.parametrize("beginning", ["", "zz"])
def test_it_must_be_clear_which_is_meant(app: Flask, beginning: str, capsys: pytest.CaptureFixture) -> None:
    phones = [Phone(app).pair(), Phone(app).pair()]
    assert main(["devices", "--revoke", beginning, "--data", str(phones[0].services.config.data_dir)]) == 1
    assert "lists them" in capsys.readouterr().err
    assert [phone.get("/api/me").status_code for phone in phones] == [200, 200]
