"""The second way to HTTPS: a real Caddy before the plain server, with its own internal authority, asked by a TLS client that checks."""

from __future__ import annotations

import os
import shutil
import ssl
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from free_port import free_port
from https_house import PATIENCE_S, ROOT, STARTS_WITHIN_S, Caller, Serving, listens, trusting

NAME = "barn.local"
# Where tests/run.py unpacks it on Debian; elsewhere the one on the PATH.
UNPACKED = ROOT / ".barnlight" / "caddy" / "usr" / "bin" / "caddy"
CADDY = str(UNPACKED) if UNPACKED.exists() else shutil.which("caddy")
# README shows the same three lines for a real domain, where `tls internal` falls away.
CADDYFILE = """{{
  admin off
  auto_https disable_redirects
  skip_install_trust
  default_sni {name}
}}
https://{name}:{port} {{
  tls internal
  reverse_proxy localhost:{behind}
}}
"""

pytestmark = pytest.mark.skipif(CADDY is None, reason="2026-11-25: no Caddy here; tests/run.py gets Debian's, elsewhere install it")


@pytest.fixture(scope="module")
def behind(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Serving, int, Path]]:
    """The plain server behind Caddy, Caddy's port, and the root of its authority."""
    folder, port = tmp_path_factory.mktemp("proxy"), free_port()
    server = Serving(folder / "store", BARNLIGHT_PUBLIC_URL=f"https://{NAME}:{port}", BARNLIGHT_PROXY_HOPS="1")
    (folder / "Caddyfile").write_text(CADDYFILE.format(name=NAME, port=port, behind=server.port))
    home = {"HOME": str(folder), "XDG_DATA_HOME": str(folder), "XDG_CONFIG_HOME": str(folder)}
    with (folder / "caddy.words").open("wb") as out:
        caddy = subprocess.Popen([CADDY, "run", "--config", str(folder / "Caddyfile"), "--adapter", "caddyfile"], stdout=out, stderr=out, env={**os.environ, **home})
    root = folder / "caddy" / "pki" / "authorities" / "local" / "root.crt"
    until = time.monotonic() + STARTS_WITHIN_S
    while not (root.exists() and listens(port)):
        assert caddy.poll() is None and time.monotonic() < until, (folder / "caddy.words").read_text()
        time.sleep(0.05)
    yield server, port, root
    caddy.terminate()
    caddy.wait(PATIENCE_S)
    server.stop()


@pytest.fixture(scope="module")
def caller(behind: tuple[Serving, int, Path]) -> Caller:
    """Trusts Caddy's root alone; the certificate is made at the first handshake or shortly before."""
    made = Caller(behind[1], trusting(behind[2]), NAME)
    until = time.monotonic() + PATIENCE_S
    while True:
        try:
            made.connect().close()
            return made
        except ssl.SSLError:
            if time.monotonic() > until:
                raise
            time.sleep(0.2)


def test_the_chain_and_the_name_hold(caller: Caller) -> None:
    with caller.connect() as line:
        assert ("DNS", NAME) in line.getpeercert()["subjectAltName"]
    assert caller.ask("GET", "/healthz").status == 200


def test_a_wrong_name_is_refused(caller: Caller, behind: tuple[Serving, int, Path]) -> None:
    # Asked by number, Caddy shows the same certificate: the chain holds, the name does not.
    with pytest.raises(ssl.SSLCertVerificationError, match="mismatch"):
        Caller(caller.port, trusting(behind[2]), "127.0.0.1").connect()
    with pytest.raises(ssl.SSLError):
        Caller(caller.port, trusting(behind[2]), "bank.example").connect()


def test_who_does_not_trust_is_refused(caller: Caller) -> None:
    with pytest.raises(ssl.SSLCertVerificationError, match="unable to get local issuer|self.signed"):
        Caller(caller.port, ssl.create_default_context(), NAME).connect()


def test_pairing_works_and_the_cookie_is_bound_to_https(caller: Caller, behind: tuple[Serving, int, Path]) -> None:
    assert f"https://{NAME}:{caller.port}/#/pair/" in behind[0].words
    answer = caller.pair(behind[0].code)
    assert answer.status == 200, answer.body
    cookie = answer.headers["Set-Cookie"]
    assert cookie.startswith("__Host-barnlight=") and {"Secure", "HttpOnly", "Path=/"} <= set(cookie.split("; ")) and "Domain" not in cookie
    assert caller.ask("GET", "/api/me", headers={"Cookie": cookie.split(";")[0]}).status == 200
    assert answer.headers["Strict-Transport-Security"]  # a domain of one's own may insist


def test_security_headers_come_through(caller: Caller) -> None:
    for path in ("/", "/api/me", "/nothing"):
        headers = caller.ask("GET", path).headers
        assert "default-src 'none'" in headers["Content-Security-Policy"] and headers["X-Content-Type-Options"] == "nosniff"


def test_a_sender_cannot_talk_https_away(caller: Caller) -> None:
    """What a sender claims in forwarding headers is overwritten by Caddy before the server believes it."""
    answer = caller.ask("GET", "/api/me", headers={"X-Forwarded-Proto": "http", "X-Forwarded-For": "203.0.113.9"})
    assert answer.status == 401 and answer.headers["Strict-Transport-Security"]
