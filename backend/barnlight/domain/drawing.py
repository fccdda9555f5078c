"""How every chart of a report is drawn: lengths, words, and a head that tells a screen reader what is to be seen."""

from __future__ import annotations

from html import escape

from barnlight.domain.rounding import half_away

INK = "#1d1d1b"
PAPER = "#ffffff"


def opening(width: float, height: float, title: str, how_to_read: str) -> str:
    """The start of a drawing of this many units: `title` says all that it shows, `how_to_read` what its shapes mean."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="chart" role="img" viewBox="0 0 {length(width)} {length(height)}"'
        f' font-family="sans-serif" font-size="13"><title>{escape(title)}</title><desc>{escape(how_to_read)}</desc>'
    )


def words(x: float, y: float, text: str, anchor: str) -> str:
    """A line of text; `anchor` is "start", "middle" or "end"."""
    return f'<text x="{length(x)}" y="{length(y)}" text-anchor="{anchor}" fill="{INK}">{escape(text)}</text>'


def length(value: float) -> str:
    """A length as SVG writes it: one decimal, none that is empty."""
    return f"{half_away(value, 1):g}"
