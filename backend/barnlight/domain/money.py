"""Amounts of money: typed the way people write them, kept in the currency's smallest unit, shown the same on both sides."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

# Currencies without a hundredth (ISO 4217, from memory); all others have two decimals.
_NO_DECIMALS = {"BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF"}
_THREE_DECIMALS = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"}
_MOST_MINOR = 1_000_000_000_000
_GROUPED = re.compile(r"[0-9]{1,3}(?:[.,' ][0-9]{3})+")
_PLAIN = re.compile(r"[0-9]{1,15}")


def decimals(currency: str) -> int:
    """Decimals of a currency's amounts."""
    if currency in _NO_DECIMALS:
        return 0
    return 3 if currency in _THREE_DECIMALS else 2


def show_money(money: Mapping) -> str:
    """{minor, currency} as "1 234.50 EUR", "120 EUR", "−30 EUR", with spaces that do not break across lines."""
    digits = decimals(money["currency"])
    whole, rest = divmod(abs(money["minor"]), 10**digits)
    grouped = f"{whole:,}".replace(",", "\u00a0")
    return f"{'−' if money['minor'] < 0 else ''}{grouped}{f'.{rest:0{digits}}' if rest else ''}\u00a0{money['currency']}"


def parse_money(text: str, currency: str) -> dict[str, Any]:
    """The amount a person typed: decimals after a point or a comma, thousands grouped by point, comma, apostrophe or space.

    A last group of three digits is a thousand where the currency has no three decimals. Raises ValueError with a message
    for the person.
    """
    if not re.fullmatch(r"[A-Z]{3}", currency):
        raise ValueError("Pick a currency first.")
    typed = text.strip().replace("\u00a0", " ").replace("\u202f", " ").replace("’", "'")
    digits = decimals(currency)
    split = re.fullmatch(rf"(.*)[.,]([0-9]{{1,{digits}}})", typed) if digits else None
    whole, rest = split.groups() if split else (typed, "")
    if not _PLAIN.fullmatch(whole) and not _GROUPED.fullmatch(whole):
        raise ValueError("Type an amount, as in 120 or 89.50.")
    minor = int(re.sub(r"[^0-9]", "", whole) + rest.ljust(digits, "0"))
    if minor > _MOST_MINOR:
        raise ValueError("That is more than can be kept; check the figure.")
    return {"minor": minor, "currency": currency}
