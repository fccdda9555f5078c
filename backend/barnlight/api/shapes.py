"""Forms of values that several addresses share."""

from __future__ import annotations

from typing import Any

from marshmallow import EXCLUDE, Schema, ValidationError, fields, validate


class Shape(Schema):
    """A JSON object; what is not known here is left aside, so that a newer app can talk to an older server."""

    class Meta:
        unknown = EXCLUDE


def _hex(digits: int, error: str) -> dict[str, Any]:
    """Checked to the very end, which Python writes \\Z; described as JSON Schema writes it, where a pattern may match anywhere."""
    pattern = f"[0-9a-f]{{{digits}}}"
    return {"validate": validate.Regexp(rf"{pattern}\Z", error=error), "metadata": {"pattern": f"^{pattern}$"}}


class Id(fields.String):
    """128 bits as 32 lowercase hex digits."""

    def __init__(self, **more: Any) -> None:
        super().__init__(**_hex(32, "Must be 32 hex digits."), **more)


class Hash(fields.String):
    """A SHA-256 as 64 lowercase hex digits."""

    def __init__(self, **more: Any) -> None:
        super().__init__(**_hex(64, "Must be a SHA-256 as 64 hex digits."), **more)


class Words(fields.String):
    """A line a person typed, of at most `most` characters; blanks around it are taken off, `least` must be left."""

    def __init__(self, *, most: int, least: int = 1, **more: Any) -> None:
        # As JSON Schema says it: no control characters, and something beside blanks.
        pattern = r"^[^\x00-\x1f]*[^\s\x00-\x1f][^\x00-\x1f]*$" if least else r"^[^\x00-\x1f]*$"
        metadata = {"pattern": pattern, **more.pop("metadata", {})}
        self.most = most
        super().__init__(validate=validate.Length(min=least, max=most), metadata=metadata, **more)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **more: Any) -> Any:
        text = super()._deserialize(value, attr, data, **more)
        if any(ord(char) < 32 or "\ud800" <= char <= "\udfff" for char in text):
            raise ValidationError("Holds a character that cannot be kept.")
        if len(text) > self.most:
            raise ValidationError(f"Longer than {self.most} characters.")
        return text.strip()
