"""Rounding as people do it on paper: halves away from zero, by the decimal digits a number is written with."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal

# As many digits as the largest float with its decimals; ROUND_HALF_UP is, in Decimal, away from zero.
_CONTEXT = Context(prec=400, rounding=ROUND_HALF_UP)


def half_away(x: float, digits: int) -> float:
    """`x` to `digits` decimals: 0.285 is 0.29 and -2.5 is -3. Raises ValueError if it is no finite number."""
    return float(_rounded(x, digits))


def fixed(x: float, digits: int) -> str:
    """The same as text with exactly `digits` decimals; zero has no sign."""
    return format(_rounded(x, digits), "f")


def _rounded(x: float, digits: int) -> Decimal:
    """Rounded on the digits of its shortest text and so free of binary remainders."""
    written = Decimal(repr(float(x)))
    if not written.is_finite():
        raise ValueError(f"not a finite number: {x}")
    rounded = written.quantize(Decimal(1).scaleb(-digits), context=_CONTEXT)
    return abs(rounded) if rounded.is_zero() else rounded
