"""A frozen report as one file that needs nothing beside it: the style and the photos are written into the page."""

from __future__ import annotations

import base64
import re
from collections.abc import Mapping

# Links of the page that lead nowhere from a file, between marks of the template.
ONLY_ONLINE = re.compile(r"<!--online-->.*?<!--/online-->\n?", re.DOTALL)
SHEET = '<link rel="stylesheet" href="style.css">'
POLICY = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\">"


def one_file(html: str, css: str, photos: Mapping[str, bytes]) -> str:
    """The page with everything in it; `photos`: JPEG bytes by the address the page gives them. The same input gives the same text."""
    whole = ONLY_ONLINE.sub("", html).replace(SHEET, f"{POLICY}\n<style>\n{css}</style>")
    for address, data in photos.items():
        whole = whole.replace(f'src="{address}"', f'src="data:image/jpeg;base64,{base64.b64encode(data).decode()}"')
    return whole
