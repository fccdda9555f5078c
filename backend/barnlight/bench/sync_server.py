"""The server as a process of its own, and beside it a bare Flask route to compare with; both under waitress, as in use."""

from __future__ import annotations

import http.client
import json
import multiprocessing
import secrets
import socket
import sqlite3
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from barnlight.config import Config
from barnlight.store import devices

THREADS = 4
STARTS_WITHIN_S = 30


class Caller:
    """One connection that stays open, as a browser's does; `cookie` is what pairing gave."""

    def __init__(self, port: int) -> None:
        self.port, self.cookie, self.space, self.device = port, "", "", secrets.token_hex(16)
        self.line = http.client.HTTPConnection("localhost", port, timeout=60)

    def get(self, path: str) -> Any:
        """The JSON at the path."""
        return self._ask("GET", path, None)[0]

    def post(self, path: str, body: Any) -> tuple[Any, int, int]:
        """The JSON that came back, and the bytes of both bodies."""
        return self._ask("POST", path, json.dumps(body, separators=(",", ":")).encode())

    def pair(self, code: str) -> None:
        """Enter the book."""
        said = self.post("/api/pair", {"code": code, "device": self.device, "device_name": "Bench"})[0]
        self.space = said["space"]

    def _ask(self, method: str, path: str, body: bytes | None) -> tuple[Any, int, int]:
        headers = {"X-Barnlight": "1", "Content-Type": "application/json", "Cookie": self.cookie}
        self.line.request(method, path, body, headers)
        answer = self.line.getresponse()
        read = answer.read()
        if answer.status >= 300:
            raise RuntimeError(f"{path} answered {answer.status}: {read[:200]!r}")
        if given := answer.getheader("Set-Cookie"):
            self.cookie = given.split(";")[0]
        return json.loads(read), len(body or b""), len(read)


@contextmanager
def barnlight(folder: Path) -> Iterator[Caller]:
    """A server on an empty store in `folder`, and a paired device that calls it."""
    with _served(_serve_barnlight, folder) as caller:
        from barnlight.services import Services

        services = Services.open(Config(data_dir=folder))
        with services.database.write() as db:
            code, _ = devices.make_code(db, services.space(), services.now_ms())
        services.database.close()
        caller.pair(code)
        yield caller


@contextmanager
def bare_insert(folder: Path, *, kept: bool) -> Iterator[Caller]:
    """The least that a Flask route with a committed insert can do, with the same care for the disk.

    `kept`: each thread keeps its connection; otherwise one is opened and closed a request, as Flask's own pages on SQLite do it.
    """
    with _served(_serve_bare_kept if kept else _serve_bare_opened, folder) as caller:
        yield caller


def _serve_barnlight(port: int, folder: Path) -> None:
    import waitress

    from barnlight.app import create_app
    from barnlight.services import Services

    waitress.serve(create_app(Services.open(Config(data_dir=folder, port=port))), listen=f"localhost:{port}", threads=THREADS)


def _serve_bare_kept(port: int, folder: Path) -> None:
    local = threading.local()

    def connected() -> sqlite3.Connection:
        if not hasattr(local, "database"):
            local.database = _opened(folder)
        return local.database

    _serve_bare(port, folder, connected, lambda database: None)


def _serve_bare_opened(port: int, folder: Path) -> None:
    _serve_bare(port, folder, lambda: _opened(folder), sqlite3.Connection.close)


def _opened(folder: Path) -> sqlite3.Connection:
    database = sqlite3.connect(folder / "bare.sqlite3")
    for pragma in ("journal_mode=WAL", "synchronous=FULL"):
        database.execute(f"PRAGMA {pragma}")
    return database


def _serve_bare(port: int, folder: Path, connected: Callable[[], sqlite3.Connection], done: Callable[[sqlite3.Connection], None]) -> None:
    import waitress
    from flask import Flask, request

    app = Flask(__name__)
    folder.mkdir(parents=True)
    # Held open throughout: with the last connection SQLite would put its journal away each time.
    held = _opened(folder)
    held.execute("CREATE TABLE IF NOT EXISTS rows (number INTEGER PRIMARY KEY, value TEXT)")
    held.commit()

    @app.post("/insert")
    def insert() -> dict[str, int]:
        database = connected()
        number = database.execute("INSERT INTO rows (value) VALUES (?)", [request.get_json()["value"]]).lastrowid
        database.commit()
        done(database)
        return {"number": number or 0}

    waitress.serve(app, listen=f"localhost:{port}", threads=THREADS)


@contextmanager
def _served(serve: Callable[[int, Path], None], folder: Path) -> Iterator[Caller]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    process = multiprocessing.get_context("spawn").Process(target=serve, args=(port, folder), daemon=True)
    process.start()
    try:
        _wait_for(port, process)
        yield Caller(port)
    finally:
        process.kill()
        process.join()


def _wait_for(port: int, process: Any) -> None:
    until = time.monotonic() + STARTS_WITHIN_S
    while time.monotonic() < until and process.is_alive():
        try:
            socket.create_connection(("localhost", port), timeout=1).close()
            return
        except OSError:
            time.sleep(0.05)
    raise RuntimeError("The server to measure did not start.")
