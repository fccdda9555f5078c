"""A rate of exchange as a person types it, "1 USD is 0.92 EUR", and as prices are turned by it: smallest unit for smallest unit."""

from __future__ import annotations

import re

from barnlight.domain.money import decimals

MOST_RATE = 1e9


def parse_rate(text: str, from_: str, to: str) -> float:
    """Smallest units of `to` that one of `from_` is, from how much of `to` one whole `from_` is: "0.92", "1,5" or "150".

    Raises ValueError with a message for the person.
    """
    if from_ == to:
        raise ValueError("Pick two currencies that differ.")
    typed = text.strip().replace(",", ".")
    if not re.fullmatch(r"[0-9]{1,9}(?:\.[0-9]{1,12})?", typed) or float(typed) <= 0:
        raise ValueError(f"Type how much 1 {from_} is in {to}, as in 0.92.")
    factor = float(typed) * 10.0 ** (decimals(to) - decimals(from_))
    if factor > MOST_RATE:
        raise ValueError("That is more than can be kept; check the figure.")
    return factor


def major_rate(minor_per_minor: float, from_: str, to: str) -> float:
    """How much of `to` one whole `from_` is."""
    return minor_per_minor * 10.0 ** (decimals(from_) - decimals(to))
