"""The way from a paper back to the live report: its address as a code for a phone's camera, put into the PDF of one link."""

from __future__ import annotations

from html import escape

import segno

# The template marks the place; a page frozen before there was one has none and gets no code.
PLACE = "<!--live link-->"


def with_live_link(html: str, address: str) -> str:
    """The page with the code and the address in words at the marked place."""
    code = segno.make(address, error="m", micro=False)
    drawn = code.svg_inline(border=4, omitsize=True, title="Code that leads to the live report", dark="#000000", light="#ffffff")
    figure = f'<figure class="live">{drawn}<figcaption>The live report, with word of newer versions: <span class="address">{escape(address)}</span></figcaption></figure>'
    return html.replace(PLACE, figure)
