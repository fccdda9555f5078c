"""Forms of values that several addresses share."""

from __future__ import annotations

from typing import Any

from marshmallow import EXCLUDE, Schema, ValidationError, fields, validate


class Shape(Schema):
    """A JSON object; what is not known here is left aside, so that a newer app can talk to an older server."""

    class Meta:
        unknown = EXCLUDE


class Id(fields.String):
    """128 bits as 32 lowercase hex digits."""

    def __init__(self, **more: Any) -> None:
        super().__init__(validate=validate.Regexp(r"[0-9a-f]{32}\Z", error="Must be 32 hex digits."), **more)


class Hash(fields.String):
    """A SHA-256 as 64 lowercase hex digits."""

    def __init__(self, **more: Any) -> None:
        super().__init__(validate=validate.Regexp(r"[0-9a-f]{64}\Z", error="Must be a SHA-256 as 64 hex digits."), **more)


class Words(fields.String):
    """A line a person typed, without blanks around it, of `least` to `most` characters."""

    def __init__(self, *, most: int, least: int = 1, **more: Any) -> None:
        super().__init__(validate=validate.Length(min=least, max=most), **more)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **more: Any) -> Any:
        text = super()._deserialize(value, attr, data, **more).strip()
        if any(ord(char) < 32 or "\ud800" <= char <= "\udfff" for char in text):
            raise ValidationError("Holds a character that cannot be kept.")
        return text
