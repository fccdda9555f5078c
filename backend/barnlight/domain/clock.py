"""The hybrid logical clock: stamps whose string order is the order of cause and effect, whatever the wall clocks say.

After Kulkarni, Demirbas, Madappa, Avva and Leone, "Logical Physical Clocks" (2014): the pair (ms, counter) strictly
increases along every chain of send and receive; the device id breaks ties. A stamp is fixed-width text
`{ms:015d}.{counter:06d}.{device}`.
"""

from __future__ import annotations

import re

_STAMP = re.compile(r"([0-9]{15})\.([0-9]{6})\.([0-9a-f]{32})")
_LAST_COUNTER = 999_999
_LAST_MS = 999_999_999_999_999


def tick(last: str | None, now_ms: int, device: str) -> str:
    """The stamp of an event on this device after `last`; `now_ms` is the wall clock (UTC), which may jump freely."""
    return _after(_place_of(last), now_ms, device)


def receive(last: str | None, remote: str, now_ms: int, device: str) -> str:
    """The stamp of having seen `remote` after `last`: later than both, so what is done next never loses to either."""
    return _after(max(_place_of(last), _place_of(remote)), now_ms, device)


def parse(stamp: str) -> tuple[int, int, str]:
    """(ms, counter, device) of a stamp. Raises ValueError if it is none."""
    match = _STAMP.fullmatch(stamp)
    if match is None:
        raise ValueError(f"not a stamp: {stamp!r}")
    return int(match[1]), int(match[2]), match[3]


def _place_of(stamp: str | None) -> tuple[int, int]:
    return (-1, 0) if stamp is None else parse(stamp)[:2]


def _after(latest: tuple[int, int], now_ms: int, device: str) -> str:
    # A save never fails because of a clock: one before 1970, or beyond the text's width, is held at the edge.
    now_ms = min(max(now_ms, 0), _LAST_MS)
    ms, counter = latest
    if now_ms > ms:
        ms, counter = now_ms, 0
    elif counter < _LAST_COUNTER:
        counter += 1
    else:
        ms, counter = ms + 1, 0
    return f"{ms:015d}.{counter:06d}.{device}"
