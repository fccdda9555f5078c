"""Bytes from strangers in, safe bytes out: photos in `image`, sounds in `audio`."""

from __future__ import annotations

MOST_BYTES = 24 * 1024 * 1024  # the largest photo or sound; four minutes at 48 kHz


class RefusedMedia(ValueError):
    """Bytes that are not taken: `code` is stable, `message` and `hint` are for a person."""

    def __init__(self, code: str, message: str, hint: str | None = None) -> None:
        super().__init__(message)
        self.code, self.message, self.hint = code, message, hint
