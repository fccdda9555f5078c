"""`serve --https` against clients that claim too much: no header, body or chunk fills its memory, and no few slow devices hold all workers."""

from __future__ import annotations

import contextlib
import gzip
import http.client
import io
import json
import os
import re
import socket
import ssl
import threading
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace

import pytest
from https_house import NAME, Caller, Serving, authority, caller, house, trusting  # noqa: F401 - fixtures

from barnlight.listening import listen_once
from barnlight.security_headers import HEADERS
from barnlight.tls.authority import authority_in
from barnlight.tls.leaf import leaf_in
from barnlight.tls.names import names_here
from barnlight.tls.request import MOST_HEADER_BYTES, ChunkedBody
from barnlight.tls.server import WORKERS, TlsServer, tls_context
from barnlight.tls.turns import MOST_WAITING_OF_ALL, PATIENCE_S, Turns

MIB = 1024 * 1024
GB = 1024**3
MAY_GROW_KB = 60 * 1024
MOST_SENT = 80 * MIB

only_linux = pytest.mark.skipif(not os.path.exists("/proc"), reason="2026-11-25: only Linux tells the memory of a process so, and lends a second address")


@pytest.fixture(scope="module")
def cookie(house: Serving, caller: Caller) -> str:
    return caller.pair(house.code).headers["Set-Cookie"].split(";")[0]


def most_memory_kb(house: Serving) -> int:
    """The most that the process ever held (Linux: proc(5), VmHWM)."""
    return int(re.search(r"VmHWM:\s+(\d+) kB", Path(f"/proc/{house.process.pid}/status").read_text()).group(1))


def pour(caller: Caller, head: bytes, piece: bytes, most: int = 300 * MIB) -> tuple[int, bytes]:
    """Sends the piece again and again until there is an answer. Returns how much was sent, and the answer."""
    sent, answer = 0, b""
    with caller.connect() as line:
        line.sendall(head)
        while sent < most and not answer:
            line.settimeout(60)
            with contextlib.suppress(ConnectionError, ssl.SSLError):  # it closed its ear; what it said before is still to be heard
                line.sendall(piece)
            sent += len(piece)
            line.settimeout(0.05)
            with contextlib.suppress(TimeoutError):
                answer = line.recv(4096)
        line.settimeout(60)
        with contextlib.suppress(OSError):
            while more := line.recv(4096):
                answer += more
    return sent, answer


def post(path: str, *headers: str) -> bytes:
    lines = (f"POST {path} HTTP/1.1", f"Host: {NAME}", "X-Barnlight: 1", "Content-Type: application/json", "Connection: close", *headers, "", "")
    return "\r\n".join(lines).encode()


@only_linux
@pytest.mark.parametrize(("begun", "goes_on"), [
    (b"GET / HTTP/1.1\r\nX-Long: ", b"a" * MIB), (b"GET / HTTP/1.1\r\n", b"X-Many: 1\r\n" * (MIB // 11)), (b"GET /", b"a" * MIB),
], ids=["one line", "many lines", "address"])  # fmt: skip
def test_a_header_without_end_is_refused(house: Serving, caller: Caller, begun: bytes, goes_on: bytes) -> None:
    """RFC 6585, 5 would say 431; RFC 9110 says 413 or 414."""
    before = most_memory_kb(house)
    sent, answer = pour(caller, begun, goes_on)
    assert re.match(rb"HTTP/1\.1 41[34] ", answer) and sent < MOST_SENT
    assert most_memory_kb(house) - before < MAY_GROW_KB
    assert caller.ask("GET", "/", headers={"X-Long": "a" * (MOST_HEADER_BYTES // 2)}).status == 200


@pytest.mark.parametrize(("sent", "status", "code"), [
    (b"NONSENSE\r\n\r\n", 400, "bad_request"), (b"get / HTTP/1.1\r\n\r\n", 400, "bad_request"), (b"GET / HTTP/9.9\r\n\r\n", 505, "http_505"),
    (b"GET / HTTP/1.1\r\nno header\r\n\r\n", 400, "bad_request"), (b"POST / HTTP/1.1\r\nContent-Length: many\r\n\r\n", 400, "bad_request"),
    (b"GET / HTTP/1.1\r\nX: " + b"a" * (MOST_HEADER_BYTES + 300), 413, "too_large"), (b"GET /" + b"a" * (MOST_HEADER_BYTES + 300), 414, "http_414"),
    (b"CONNECT x:1 HTTP/1.1\r\n\r\n", 405, "method_not_allowed"), (b"POST / HTTP/1.1\r\nTransfer-Encoding: strange\r\n\r\n", 501, "http_501"),
], ids=["no request", "small letters", "version", "header", "length", "long header", "long address", "tunnel", "encoding"])  # fmt: skip
def test_what_no_app_is_asked_is_refused_as_the_app_does(caller: Caller, sent: bytes, status: int, code: str) -> None:
    with caller.connect() as line:
        line.sendall(sent)
        answer = http.client.HTTPResponse(line)
        answer.begin()
        body = answer.read()
        assert (answer.status, json.loads(body)["error"]["code"]) == (status, code)
        assert {**answer.headers, **HEADERS} == dict(answer.headers) and answer.headers["Cache-Control"] == "no-store"
        assert b"cheroot" not in body.lower() and "cheroot" not in str(answer.headers).lower()
        assert line.recv(1) == b"", "and the line is closed"


@only_linux
@pytest.mark.parametrize("asked", ["POST /api/changes", "PUT /api/media/" + "0" * 64, "POST /", "GET /healthz"])
@pytest.mark.parametrize("said", [f"Content-Length: {GB}", "Transfer-Encoding: chunked"])
def test_a_body_that_nobody_reads_takes_no_memory(house: Serving, caller: Caller, asked: str, said: str) -> None:
    """The chunk says that it has 1 GB, too."""
    before = most_memory_kb(house)
    first = f"{GB:x}\r\n" if "chunked" in said else ""
    sent, answer = pour(caller, f"{asked} HTTP/1.1\r\nHost: {NAME}\r\nX-Barnlight: 1\r\n{said}\r\n\r\n{first}".encode(), bytes(MIB))
    assert re.match(rb"HTTP/1\.1 (200|401|405) ", answer), answer[:100]
    assert sent < MOST_SENT and most_memory_kb(house) - before < MAY_GROW_KB


@pytest.mark.parametrize("squeezed", [False, True])
def test_too_much_in_chunks_is_said_to_be_too_much(caller: Caller, cookie: str, squeezed: bool) -> None:
    head = post("/api/changes", f"Cookie: {cookie}", "Transfer-Encoding: chunked", *(["Content-Encoding: gzip"] if squeezed else []))
    sent, answer = pour(caller, head, b"100000\r\n" + bytes(MIB) + b"\r\n")
    assert b" 413 " in answer and b'"too_large"' in answer and b"larger than this server takes" in answer, answer[-300:]
    assert sent < MOST_SENT


@pytest.mark.parametrize("squeezed", [False, True])
def test_a_body_in_chunks_is_taken(caller: Caller, cookie: str, squeezed: bool) -> None:
    body = b'{"changes": []}'
    body = gzip.compress(body) if squeezed else body
    chunks = b"".join(b"%x ;of=mine\r\n%b\r\n" % (len(part), part) for part in (body[:5], body[5:])) + b"0\r\n\r\n"
    _, answer = pour(caller, post("/api/changes", f"Cookie: {cookie}", "Transfer-Encoding: chunked", *(["Content-Encoding: gzip"] if squeezed else [])), chunks, 1)
    assert b" 200 " in answer and b'"results":[]' in answer, answer[-300:]


@pytest.mark.parametrize("body", [b"", b"3\r\nab", b"3\r\nabcd\r\n", b"-1\r\n", b"0x3\r\nabc\r\n", b"1_0\r\n", b"f" * 300, b"3\nabc"])
def test_what_is_not_in_chunks_is_no_body(body: bytes) -> None:
    """RFC 9112, 7.1: hex digits, CRLF, so many bytes, CRLF."""
    with pytest.raises(OSError):
        ChunkedBody(io.BytesIO(body)).read(100)


def test_what_comes_behind_a_chunked_body_is_no_second_request(caller: Caller) -> None:
    """RFC 9112, 11.2: else whoever shares a connection could be given the answer to another's request."""
    with caller.connect() as line:
        line.sendall(f"GET /healthz HTTP/1.1\r\nHost: {NAME}\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET / HTTP/1.1\r\nHost: x\r\n\r\n".encode())
        answer = b""
        with contextlib.suppress(OSError):
            while more := line.recv(4096):
                answer += more
    assert answer.count(b"HTTP/1.1 ") == 1 and b"Connection: close" in answer


def test_a_stranger_has_nothing_unpacked(caller: Caller) -> None:
    bomb = gzip.compress(bytes(30 * MIB))
    for words in (bomb, b"no gzip"):
        _, answer = pour(caller, post("/api/changes", "Content-Encoding: gzip", f"Content-Length: {len(words)}"), words, 1)
        assert b" 401 " in answer and b'"not_paired"' in answer, answer[-200:]


def test_a_stranger_who_pairs_has_few_words(caller: Caller) -> None:
    """32 MB of JSON are half a GB once they are read."""
    answer = caller.ask("POST", "/api/pair", [0] * 10_000)
    assert answer.status == 413 and b'"too_large"' in answer.body


def line_of(client: str) -> SimpleNamespace:
    return SimpleNamespace(remote_addr=client)


@pytest.mark.parametrize("slow", [1, 4, 10, 20])
def test_slow_devices_leave_a_worker_for_one_that_holds_none(slow: int) -> None:
    """Each wants all workers there are; then somebody else comes."""
    turns = Turns(WORKERS)
    held = {number: sum(turns.take(line_of(f"10.0.0.{number}")) == "now" for _ in range(WORKERS)) for number in range(slow)}
    assert held[0] == 7 and min(held.values()) >= 1
    assert turns.take(line_of("10.0.1.1")) == "now"


def test_ten_phones_of_a_house_are_served_at_once() -> None:
    """A browser opens six connections to one server (RFC 9112, 9.4 leaves the number to it; six is common practice, no source); none waits for ever."""
    turns = Turns(WORKERS)
    lines = [line_of(f"10.0.0.{phone}") for _ in range(6) for phone in range(10)]
    said = [turns.take(line) for line in lines]
    assert set(said) == {"now", "later"}
    busy = [line for line, when in zip(lines, said, strict=True) if when == "now"]
    assert {line.remote_addr for line in busy} == {line.remote_addr for line in lines}
    served = []
    while busy:
        served.append(busy.pop(0))
        busy += turns.give_back(served[-1])
    assert sorted(map(id, served)) == sorted(map(id, lines))


class Slow:
    """A connection whose client keeps a worker waiting."""

    def __init__(self, client: str, lags_s: float) -> None:
        self.remote_addr, self.lags_s, self.is_cut = client, lags_s, False

    def cut(self) -> None:
        self.is_cut = True


def held_by_many(lags_s: float) -> tuple[Turns, list[Slow]]:
    """A client has addresses enough for every worker there is."""
    turns, slow = Turns(WORKERS), [Slow(f"fd00::{number:x}", lags_s + number / 100) for number in range(WORKERS)]
    assert {turns.take(line) for line in slow} == {"now"}
    return turns, slow


def test_who_lags_the_furthest_makes_room_for_who_waits() -> None:
    turns, slow = held_by_many(PATIENCE_S + 0.1)
    turns.hurry()
    assert not any(line.is_cut for line in slow), "nobody waits"
    comes = line_of("10.0.0.1")
    assert turns.take(comes) == "later"
    turns.hurry()
    assert [line for line in slow if line.is_cut] == slow[-1:]
    assert turns.give_back(slow[-1]) == [comes]


def test_who_lags_but_a_little_is_left_in_peace() -> None:
    turns, slow = held_by_many(PATIENCE_S - 0.7)
    assert turns.take(line_of("10.0.0.1")) == "later"
    turns.hurry()
    assert not any(line.is_cut for line in slow)


def test_who_was_slow_is_served_behind_who_was_not() -> None:
    """And is the first to go when too many wait; else those wait their turn who came first."""
    turns, slow = held_by_many(PATIENCE_S + 1)
    crowd = [Slow(f"fd01::{number:x}", 0) for number in range(MOST_WAITING_OF_ALL)]
    assert {turns.take(line) for line in crowd} == {"later"} and turns.surplus() == []
    late = line_of("10.0.0.9")
    turns.take(late)
    assert turns.surplus() == [late], "nobody was slow yet"
    turns.hurry()
    assert all(line.is_cut for line in slow)
    assert turns.give_back(slow[0]) == crowd[:1]
    again = Slow(slow[0].remote_addr, 0)
    turns.take(again)
    turns.take(late)
    assert turns.surplus() == [again]
    served = [line for each in slow[1:] + crowd[:-1] for line in turns.give_back(each)]
    assert served == [*crowd[1:], late]


def test_a_client_of_many_connections_waits_behind_others_each_time() -> None:
    turns, slow = held_by_many(0)
    many, one = [line_of("10.0.0.1") for _ in range(3)], line_of("10.0.0.2")
    for line in (*many, one):
        assert turns.take(line) == "later"
    assert [turns.give_back(each) for each in slow[:2]] == [many[:1], [one]]


@only_linux
def test_four_slow_devices_hold_up_nobody_else(house: Serving, caller: Caller) -> None:
    slow = []
    try:
        for number in range(100):
            slow.append(socket.create_connection(("127.0.0.1", house.port), 60, (f"127.0.0.{20 + number % 4}", 0)))
        assert caller.ask("GET", "/healthz").status == 200
    finally:
        for each in slow:
            each.close()


@only_linux
@pytest.mark.parametrize("begun", [b"", b"GET / HTTP/1.1\r\nX-Slow: ", b"POST /evidence/ HTTP/1.1\r\nContent-Length: 1000000\r\n\r\n"], ids=["silent", "head", "body"])
def test_a_device_of_many_addresses_holds_up_nobody(house: Serving, caller: Caller, begun: bytes) -> None:
    """More than there are workers, as IPv6 gives them; each goes on a byte at a time, for longer than the caller waits."""
    stop = threading.Event()

    def dribble(number: int) -> None:
        while not stop.is_set():
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", house.port), 60, (f"127.0.1.{1 + number}", 0)) as plain:
                if not begun:
                    plain.recv(1)
                    continue
                with caller.context.wrap_socket(plain, server_hostname=NAME) as line:
                    line.sendall(begun)
                    while not stop.wait(0.5):
                        line.sendall(b"x")

    slow = [threading.Thread(target=dribble, args=(number,), daemon=True) for number in range(WORKERS + 10)]
    try:
        for each in slow:
            each.start()
        time.sleep(3)
        for _ in range(3):
            assert caller.ask("GET", "/healthz").status == 200
    finally:
        stop.set()
        for each in slow:
            each.join(0.1)


def test_an_answer_of_many_megabytes_may_take_longer_than_a_silence(tmp_path: Path) -> None:
    """A phone on a poor line fetches the photo it had let go of."""
    names, now = names_here(), datetime.now(UTC)
    leaf, _ = leaf_in(tmp_path, authority_in(tmp_path, names, now)[0], names, now)
    body = bytes(16 * MIB)

    def app(environ: dict, start: Callable) -> list[bytes]:
        start("200 OK", [("Content-Length", str(len(body)))])
        return [body]

    bound = listen_once("127.0.0.1", 0)
    server = TlsServer(bound, app, tls_context(leaf))
    server.timeout = 2
    server.prepare()
    serving = threading.Thread(target=server.serve, daemon=True)
    serving.start()
    try:
        plain = socket.socket()
        plain.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 64 * 1024)
        plain.settimeout(60)
        plain.connect(bound.getsockname())
        with trusting(tmp_path / "authority.pem").wrap_socket(plain, server_hostname="localhost") as line:
            line.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")
            heard = 0
            while piece := line.recv(64 * 1024):
                heard += len(piece)
                time.sleep(0.1 if heard < MIB else 0)
        assert heard > len(body)
    finally:
        server.stop()
        serving.join(60)


@only_linux
def test_one_device_does_not_take_all_files_a_process_may_open(tmp_path: Path) -> None:
    """It opens more connections than that and says nothing."""
    import resource  # not everywhere

    few = Serving(tmp_path / "store", "--https", "--name", NAME)
    slow = []
    try:
        resource.prlimit(few.process.pid, resource.RLIMIT_NOFILE, (200, 200))
        for _ in range(300):
            with contextlib.suppress(OSError):
                slow.append(socket.create_connection(("127.0.0.1", few.port), 1, ("127.0.0.9", 0)))
        assert Caller(few.port, trusting(few.data / "tls" / "authority.pem"), NAME).ask("GET", "/healthz").status == 200
    finally:
        for each in slow:
            each.close()
        few.stop()
