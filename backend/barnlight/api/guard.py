"""What holds for every address of the API: writes come from the app itself, bodies may be squeezed, depth has an end."""

from __future__ import annotations

import gzip
import logging
import zlib
from io import BytesIO
from typing import BinaryIO

from flask import Flask, Response, request
from sqlalchemy.exc import OperationalError

from barnlight.api.access import require_device
from barnlight.errors import BadInput, BarnlightError, Forbidden, NotReady, StoreFull, TooLarge, error_body

log = logging.getLogger(__name__)

READS = ("GET", "HEAD", "OPTIONS")
OWN_SITE = (None, "same-origin", "none")
SQUEEZE_FROM_BYTES = 1024
GZIP = zlib.MAX_WBITS | 16
# A code and a name: what a stranger may send is not worth more to read.
MOST_TO_PAIR_BYTES = 16 * 1024


def register_guard(app: Flask) -> None:
    """Runs before any view of the API and after it."""
    app.before_request(_only_from_the_app)
    app.before_request(_end_of_body)
    app.before_request(_unsqueeze)
    app.after_request(_squeeze)
    app.register_error_handler(RecursionError, _too_deep)
    app.register_error_handler(OperationalError, _database)


def _only_from_the_app() -> None:
    """A foreign page can send neither this header nor a false Sec-Fetch-Site without the browser's leave."""
    if request.url_rule is None or not request.path.startswith("/api/") or request.method in READS:
        return
    if request.headers.get("X-Barnlight") != "1" or request.headers.get("Sec-Fetch-Site") not in OWN_SITE:
        raise Forbidden("Only the Barnlight app may write here.", code="not_from_app", hint="Send the header X-Barnlight: 1 from this site.")


def _end_of_body() -> None:
    """A body that did not say its length has an end all the same; the framework would cut it there and call it damaged."""
    if request.blueprint == "pairing":
        request.max_content_length = MOST_TO_PAIR_BYTES
    most = request.max_content_length
    if most is not None and request.content_length is None and request.environ.get("wsgi.input_terminated"):
        request.environ["wsgi.input"] = UpTo(request.environ["wsgi.input"], most)
        request.max_content_length = most + 1


class UpTo:
    """A stream of at most `left` bytes; who reads beyond gets TooLarge."""

    def __init__(self, stream: BinaryIO, left: int) -> None:
        self._stream, self._left = stream, left

    def read(self, size: int = -1) -> bytes:
        """At most `size` bytes, all there are without it. Raises TooLarge."""
        most = self._left + 1
        data = self._stream.read(most if size < 0 else min(size, most))
        self._left -= len(data)
        if self._left < 0:
            raise TooLarge("The request is larger than this server takes.", hint="Send less at once.")
        return data


def _unsqueeze() -> None:
    """Unpack a gzip body of a paired device, up to the limit that holds for plain ones; a few bytes of a stranger could fill the memory."""
    if request.url_rule is None or request.headers.get("Content-Encoding", "identity") == "identity":
        return
    require_device()
    if request.content_encoding != "gzip":
        raise BadInput("The body is packed in a way this server does not know.", hint="Send it plain or as gzip.")
    most = request.max_content_length or 0
    unpacker = zlib.decompressobj(GZIP)
    try:
        plain = unpacker.decompress(request.get_data(cache=False), most)
    except zlib.error:
        raise BadInput("The body says it is gzip, but cannot be unpacked.") from None
    if unpacker.unconsumed_tail:
        raise TooLarge("The body is larger than this server takes once it is unpacked.", hint="Send less at once.")
    if not unpacker.eof:
        raise BadInput("The body is cut short.", hint="Send it again.")
    request.environ.update({"wsgi.input": BytesIO(plain), "CONTENT_LENGTH": str(len(plain))})
    del request.environ["HTTP_CONTENT_ENCODING"]
    del request.stream  # kept by the request since it was read above


def _squeeze(response: Response) -> Response:
    """Pack JSON answers worth packing."""
    if response.mimetype != "application/json" or response.is_streamed or response.content_encoding:
        return response
    if len(response.get_data()) < SQUEEZE_FROM_BYTES:
        return response
    response.vary.add("Accept-Encoding")
    if request.accept_encodings["gzip"] > 0:
        response.set_data(gzip.compress(response.get_data(), compresslevel=5, mtime=0))
        response.content_encoding = "gzip"
    return response


def _too_deep(_error: RecursionError) -> tuple[dict, int]:
    return _said(BadInput("The body is nested too deep."))


def _database(error: OperationalError) -> tuple[dict, int]:
    """The database cannot do it now: its disk is full, or another writer holds it for too long."""
    log.error("the database refused", exc_info=error)
    if "full" in str(error.orig):
        return _said(StoreFull("The server's disk is full; nothing of this was stored.", hint="Make room there; the phone keeps its copy."))
    return _said(NotReady("The database is busy or cannot be reached; nothing of this was stored.", hint="Try again in a moment."))


def _said(refusal: BarnlightError) -> tuple[dict, int]:
    return error_body(refusal.code, refusal.message, hint=refusal.hint), refusal.status
