"""Shows a link as a QR picture on the terminal, where the terminal can show one."""

from __future__ import annotations

import io

import segno


def print_qr(words: str) -> None:
    """Prints the picture, or an empty line on an output without block letters, as a file on Windows."""
    picture = io.StringIO()
    segno.make(words).terminal(picture, compact=True)
    try:
        print(picture.getvalue(), flush=True)
    except UnicodeEncodeError:
        print(flush=True)
