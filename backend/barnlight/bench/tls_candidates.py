"""The servers that `tls_servers` compares, each run as its makers say, with eight threads; run as a process it is one of them."""

from __future__ import annotations

import os
import signal
import socket
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from flask import Flask, Response, request

THREADS = 8
BODY_LIMIT = 32 * 1024 * 1024


def bench_app() -> Flask:
    """The app with its guards, and three addresses that do nothing else."""
    from barnlight.app import create_app
    from barnlight.config import Config
    from barnlight.services import Services

    app = create_app(Services.open(Config(data_dir=Path(os.environ["BENCH_STORE"]), rate_limits=False)))

    @app.post("/bench/json")
    def _json() -> dict:
        return {"got": len(request.get_json())}

    @app.put("/bench/body")
    def _body() -> dict:
        got = 0
        while piece := request.stream.read(65536):
            got += len(piece)
        return {"got": got}

    @app.get("/bench/empty/<int:status>")
    def _empty(status: int) -> Response:
        return Response(status=status)

    return app


def waitress_plain(port: int, _leaf: str) -> None:
    import waitress

    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    waitress.serve(bench_app(), listen=f"127.0.0.1:{port}", threads=THREADS, max_request_body_size=256 * 1024 * 1024)


def cheroot(port: int, leaf: str | None) -> None:
    from cheroot.ssl.builtin import BuiltinSSLAdapter
    from cheroot.wsgi import Server

    server = Server(("127.0.0.1", port), bench_app(), numthreads=THREADS)
    if leaf:
        server.ssl_adapter = BuiltinSSLAdapter(leaf, leaf)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    try:
        server.start()
    finally:
        server.stop()


def cheroot_ours(port: int, leaf: str) -> None:
    """As `barnlight serve --https` runs it."""
    from barnlight.tls.server import TlsServer, tls_context

    server = TlsServer(socket.create_server(("127.0.0.1", port)), bench_app(), tls_context(Path(leaf)))
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    server.run_until_interrupted()


def hypercorn(port: int, leaf: str | None) -> None:
    import asyncio

    from hypercorn.asyncio import serve
    from hypercorn.config import Config

    config = Config()
    config.bind = [f"127.0.0.1:{port}"]
    config.wsgi_max_body_size = BODY_LIMIT
    config.errorlog = None
    if leaf:
        config.certfile = config.keyfile = leaf
    asyncio.run(serve(bench_app(), config, mode="wsgi"))


def granian(port: int, leaf: str | None) -> None:
    from granian import Granian

    file = Path(leaf) if leaf else None
    Granian(
        "barnlight.bench.tls_candidates:bench_app", address="127.0.0.1", port=port, interface="wsgi", factory=True, workers=1,
        blocking_threads=THREADS, ssl_cert=file, ssl_key=file, ssl_protocol_min="tls1.2", log_enabled=False,
    ).serve()  # fmt: skip


@dataclass(frozen=True)
class Candidate:
    """How to run one, and what it is."""

    package: str
    tls: bool
    run: Callable[[int, str], None]


CANDIDATES = {
    "waitress, plain": Candidate("waitress", False, waitress_plain),
    "cheroot, plain": Candidate("cheroot", False, lambda port, _: cheroot(port, None)),
    "hypercorn, plain": Candidate("hypercorn", False, lambda port, _: hypercorn(port, None)),
    "granian, plain": Candidate("granian", False, lambda port, _: granian(port, None)),
    "cheroot, TLS": Candidate("cheroot", True, cheroot),
    "cheroot, TLS, as used here": Candidate("cheroot", True, cheroot_ours),
    "hypercorn, TLS": Candidate("hypercorn", True, hypercorn),
    "granian, TLS": Candidate("granian", True, granian),
}

if __name__ == "__main__":
    name, port, store, leaf = sys.argv[1:]
    os.environ["BENCH_STORE"] = store
    CANDIDATES[name].run(int(port), leaf)
