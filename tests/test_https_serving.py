"""`serve --https` as a process, asked by TLS clients that check chain and name; and the plain port with the page that leads to trust."""

from __future__ import annotations

import contextlib
import http.client
import json
import os
import re
import signal
import socket
import ssl
import stat
import threading
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from https_house import NAME, PATIENCE_S, Caller, Serving, authority, caller, house, listens, trusting  # noqa: F401 - fixtures

from barnlight.cli import main
from barnlight.errors import ConfigError
from barnlight.listening import listen_once
from barnlight.tls.authority import Authority, authority_in, make_authority
from barnlight.tls.leaf import leaf_in, make_leaf
from barnlight.tls.names import Names, names_here
from barnlight.tls.pem_file import read_pem, write_pem
from barnlight.tls.server import TlsServer, tls_context

GB = 1024**3


def plain(house: Serving, path: str, host: str | None = None, method: str = "GET") -> http.client.HTTPResponse:
    """Asks the plain port; the answer's bytes are in `.body`."""
    line = http.client.HTTPConnection("127.0.0.1", house.trust_port, timeout=PATIENCE_S)
    line.request(method, path, headers={"Host": f"{host or '127.0.0.1'}:{house.trust_port}"})
    answer = line.getresponse()
    answer.body = answer.read()
    line.close()
    return answer


def test_the_chain_and_the_name_hold(caller: Caller) -> None:
    with caller.connect() as line:
        assert line.version() == "TLSv1.3"
        assert ("DNS", NAME) in line.getpeercert()["subjectAltName"]
    answer = caller.ask("GET", "/healthz")
    assert (answer.status, json.loads(answer.body)) == (200, {"status": "ready"})


@pytest.mark.parametrize("name", ["localhost", "127.0.0.1", names_here().hosts[0]])
def test_each_name_of_the_computer_holds(house: Serving, authority: Path, name: str) -> None:
    assert Caller(house.port, trusting(authority), name).ask("GET", "/healthz").status == 200


def test_a_wrong_name_is_refused(house: Serving, authority: Path) -> None:
    with pytest.raises(ssl.SSLCertVerificationError, match="mismatch"):
        Caller(house.port, trusting(authority), "bank.example").connect()


def test_who_does_not_trust_is_refused_and_the_server_goes_on(house: Serving, caller: Caller, tmp_path: Path) -> None:
    stranger, _ = authority_in(tmp_path, names_here(), datetime.now(UTC))
    for context in (ssl.create_default_context(), trusting(tmp_path / "authority.pem")):
        with pytest.raises(ssl.SSLCertVerificationError, match="unable to get local issuer|self.signed"):
            Caller(house.port, context, NAME).connect()
    assert stranger.fingerprint not in house.words
    assert caller.ask("GET", "/healthz").status == 200
    assert "Traceback" not in house.words


def test_openssl_too_holds_the_authority_to_its_names(tmp_path: Path) -> None:
    """RFC 5280, 4.2.1.10, by OpenSSL: a leaf for a foreign name, signed with this authority's own key."""
    class Loose(Authority):
        def covers(self, host: str) -> bool:
            return True

    names = Names((), ("bank.example",), ())
    made = make_authority(("shelf.local",), datetime.now(UTC))
    key, leaf = make_leaf(Loose(made.key, made.certificate), names, datetime.now(UTC))
    write_pem(tmp_path / "leaf.pem", key, [leaf])
    write_pem(tmp_path / "authority.pem", made.key, [made.certificate])
    server, client = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER), trusting(tmp_path / "authority.pem")
    server.load_cert_chain(tmp_path / "leaf.pem")
    incoming, outgoing = ssl.MemoryBIO(), ssl.MemoryBIO()
    here, there = server.wrap_bio(incoming, outgoing, server_side=True), client.wrap_bio(outgoing, incoming, server_hostname="bank.example")
    with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        for side in (there, here, there, here, there):
            try:
                side.do_handshake()
            except ssl.SSLWantReadError:
                continue


def test_old_tls_is_refused(house: Serving, authority: Path) -> None:
    """RFC 8996: TLS 1.0 and 1.1 must not be used."""
    context = trusting(authority)
    with pytest.warns(DeprecationWarning):
        context.minimum_version = context.maximum_version = ssl.TLSVersion.TLSv1_1
    context.set_ciphers("DEFAULT:@SECLEVEL=0")
    with pytest.raises(ssl.SSLError):
        Caller(house.port, context, NAME).connect()


def test_pairing_works_and_the_cookie_is_bound_to_https(house: Serving, caller: Caller) -> None:
    answer = caller.pair(house.code)
    assert answer.status == 200, answer.body
    cookie = answer.headers["Set-Cookie"]
    # RFC 6265bis, 4.1.3.2: this prefix only with Secure, Path=/ and no Domain.
    assert cookie.startswith("__Host-barnlight=") and "Domain" not in cookie
    assert {"Secure", "HttpOnly", "Path=/", "SameSite=Strict"} <= set(cookie.split("; "))
    kept = cookie.split(";")[0]
    assert caller.ask("GET", "/api/me", headers={"Cookie": kept}).status == 200
    assert caller.ask("GET", "/api/me", headers={"Cookie": kept.removeprefix("__Host-")}).status == 401
    made = caller.ask("POST", "/api/pair/codes", {}, {"Cookie": kept})
    assert f"https://{NAME}:{house.port}/#/pair/".encode() in made.body


def test_the_terminal_says_what_to_do(house: Serving, authority: Path) -> None:
    words, kept = house.words, Authority(*read_pem(authority))
    assert f"Barnlight is at https://{NAME}:{house.port}\n" in words
    assert "Made a certificate authority" in words and "Made a certificate for this computer" in words
    assert kept.fingerprint == ":".join(":".join(row.split()) for row in words.splitlines() if re.fullmatch(r" {4}[0-9A-F:]{11}  [0-9A-F:]{11}", row))
    assert f":{house.trust_port}/trust" in words and "█" in words
    assert f"https://{NAME}:{house.port}/#/pair/" in words


@pytest.mark.skipif(os.name == "nt", reason="2026-11-25: Windows keeps rights otherwise")
def test_the_keys_are_for_their_owner_alone(authority: Path) -> None:
    assert {stat.S_IMODE(each.stat().st_mode) for each in authority.parent.iterdir()} == {0o600}


def test_the_plain_port_hands_out_the_certificate_and_no_key(house: Serving, authority: Path) -> None:
    answer = plain(house, "/barnlight-authority.crt")
    assert answer.body == Authority(*read_pem(authority)).der
    assert answer.headers["Content-Type"] == "application/x-x509-ca-cert"  # by this kind phones know what it is


def test_the_page_tells_each_kind_of_phone_the_way(house: Serving, authority: Path) -> None:
    page = plain(house, "/trust").body.decode()
    kept = Authority(*read_pem(authority))
    for words in ("Android", "iPhone", "Computer", "Taking the trust away", kept.name, f"https://{NAME}:{house.port}", *kept.fingerprint.split(":")):
        assert words in page
    assert "<script" not in page and plain(house, "/").body.decode() == page


@pytest.mark.parametrize(("host", "goes_to"), [(NAME, NAME), ("127.0.0.1", NAME), ("localhost", NAME), ("evil.example", NAME), (names_here().hosts[0], names_here().hosts[0])])
def test_every_other_address_leads_to_https_and_to_nobody_else(house: Serving, host: str, goes_to: str) -> None:
    answer = plain(house, "/r/abc/?x=1", host)
    assert (answer.status, answer.headers["Location"]) == (302, f"https://{goes_to}:{house.port}/r/abc/?x=1")
    assert plain(house, "//evil.example/x", host).headers["Location"].startswith(f"https://{goes_to}:{house.port}/")


@pytest.mark.parametrize("path", ["/", "/trust", "/trust.css", "/barnlight-authority.crt", "/api/me", "/healthz", "/nothing/here", "/..%2f..%2ftls%2fauthority.pem"])
@pytest.mark.parametrize("method", ["GET", "HEAD", "POST", "OPTIONS"])
def test_the_plain_port_has_the_headers_everywhere(house: Serving, path: str, method: str) -> None:
    answer = plain(house, path, method=method)
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"] and "frame-ancestors 'none'" in answer.headers["Content-Security-Policy"]
    assert answer.headers["X-Content-Type-Options"] == "nosniff" and answer.headers["Referrer-Policy"] == "no-referrer"
    assert answer.headers["Set-Cookie"] is None and b"PRIVATE KEY" not in answer.body
    if path in ("/", "/trust") and method in ("GET", "HEAD"):
        assert "script-src" not in answer.headers["Content-Security-Policy"]


def test_nothing_forbids_the_plain_port_later(caller: Caller) -> None:
    """RFC 6797, 8.3: a host known for this header is asked by HTTPS on every port, the one of the trust page too."""
    assert caller.ask("GET", "/").headers["Strict-Transport-Security"] is None


@pytest.mark.parametrize("length", [f"Content-Length: {GB}", "Transfer-Encoding: chunked"])
def test_a_body_of_1_gb_is_refused_before_it_is_here(caller: Caller, length: str) -> None:
    """One that says its length at once, one that does not when it has passed the limit."""
    piece = bytes(1024 * 1024) if "Length" in length else b"100000\r\n" + bytes(1024 * 1024) + b"\r\n"
    with caller.connect() as line:
        line.sendall(f"POST /api/pair HTTP/1.1\r\nHost: {NAME}\r\nX-Barnlight: 1\r\nContent-Type: application/json\r\n{length}\r\n\r\n".encode())
        sent, answer = 0, b""
        while sent < GB and not answer:
            line.settimeout(PATIENCE_S)
            with contextlib.suppress(ConnectionError, ssl.SSLEOFError):  # it closed its ear; what it said before is still to be heard
                line.sendall(piece)
            sent += len(piece)
            line.settimeout(0.05)
            with contextlib.suppress(TimeoutError):
                answer = line.recv(4096)
        line.settimeout(PATIENCE_S)
        while b'"error"' not in answer and (more := line.recv(4096)):
            answer += more
    assert sent < 100 * 1024 * 1024 and b" 413 " in answer, (sent, answer)


@pytest.mark.skipif(not os.path.exists("/proc"), reason="2026-11-25: only Linux lets a test speak from a second address of its own")
@pytest.mark.parametrize("kind", ["mute", "head", "body"])
def test_slow_clients_hold_up_nobody_else(house: Serving, caller: Caller, kind: str) -> None:
    """More connections than there are workers, all from one address, are silent, or stop in the head or in the body of a request."""
    words = {"mute": b"", "head": b"POST /api/pair HT", "body": b"POST /api/pair HTTP/1.1\r\nHost: x\r\nContent-Length: 1000\r\n\r\n{"}[kind]
    slow = []
    try:
        for _ in range(80):
            line: socket.socket = socket.create_connection(("127.0.0.1", house.port), PATIENCE_S, ("127.0.0.9", 0))
            slow.append(line)
            if words and len(slow) <= 7:  # beyond its share nobody shakes hands with this client
                slow[-1] = line = caller.context.wrap_socket(line, server_hostname=NAME)
                line.sendall(words)
        assert caller.ask("GET", "/healthz").status == 200
    finally:
        for each in slow:
            each.close()


def test_plain_words_on_the_secure_port_do_no_harm(house: Serving, caller: Caller) -> None:
    with socket.create_connection(("127.0.0.1", house.port), PATIENCE_S) as line:
        line.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
        assert b"200" not in line.recv(1000)
    assert caller.ask("GET", "/healthz").status == 200
    assert "Traceback" not in house.words


def test_a_second_start_makes_nothing_new_and_stops_cleanly(tmp_path: Path) -> None:
    first = Serving(tmp_path / "store", "--https")
    before = (tmp_path / "store" / "tls" / "authority.pem").read_bytes()
    assert first.stop() == (0 if os.name != "nt" else 1)
    again = Serving(tmp_path / "store", "--https")
    again.process.send_signal(signal.SIGINT)
    assert again.process.wait(PATIENCE_S) == 0
    assert "Made" not in again.words and "Traceback" not in first.words + again.words
    assert (tmp_path / "store" / "tls" / "authority.pem").read_bytes() == before
    assert not listens(again.port) and not listens(again.trust_port)


def test_name_without_https_is_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    assert main(["serve", "--data", str(tmp_path), "--name", "barn.example"]) == 1
    assert capsys.readouterr().err.startswith("barnlight: --name belongs to --https.")
    assert main(["serve", "--data", str(tmp_path), "--https", "--name", "8.8.8.8"]) == 1
    assert "no address of a home network" in capsys.readouterr().err


def test_pair_beside_it_names_the_secure_address(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    assert main(["pair", "--data", str(tmp_path), "--port", "9000", "--https", "--name", NAME]) == 0
    assert f"https://{NAME}:9000/#/pair/" in capsys.readouterr().out


def test_without_https_nothing_of_it_is_made(tmp_path: Path) -> None:
    running = Serving(tmp_path / "store")
    try:
        assert not (tmp_path / "store" / "tls").exists() and not listens(running.trust_port)
    finally:
        running.stop()


def test_a_taken_port_is_one_sentence() -> None:
    with socket.create_server(("", 0)) as taken, pytest.raises(ConfigError, match="is in use"):
        listen_once("", taken.getsockname()[1])


def test_a_new_certificate_is_shown_without_a_restart(tmp_path: Path) -> None:
    """A connection that is open goes on; the next one gets the new certificate."""
    def app(environ: dict, start: Callable) -> list[bytes]:
        start("200 OK", [("Content-Length", "2")])
        return [b"ok"]

    names, now = names_here(), datetime.now(UTC)
    authority, _ = authority_in(tmp_path, names, now)
    leaf, _ = leaf_in(tmp_path, authority, names, now)
    bound = listen_once("127.0.0.1", 0)
    server = TlsServer(bound, app, tls_context(leaf))
    server.prepare()
    serving = threading.Thread(target=server.serve, daemon=True)
    serving.start()
    try:
        caller = Caller(bound.getsockname()[1], trusting(tmp_path / "authority.pem"), "localhost")
        with caller.connect() as before:
            more = replace(names, hosts=(*names.hosts, "loft.local"))
            server.take_over(leaf_in(tmp_path, authority, more, now)[0])
            with caller.connect() as after:
                old, new = (line.getpeercert()["subjectAltName"] for line in (before, after))
            assert ("DNS", "loft.local") in new and ("DNS", "loft.local") not in old
            before.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n")
            assert before.recv(100).startswith(b"HTTP/1.1 200")
    finally:
        server.stop()
        serving.join(PATIENCE_S)
