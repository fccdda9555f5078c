"""The PDF of a frozen report, made of what is handed in: no file and no address is ever fetched."""

from __future__ import annotations

import logging
from collections.abc import Mapping
from functools import cache
from typing import Any

from barnlight.errors import BarnlightError, NotReady

BASE = "https://report.invalid/"  # never fetched: a name under which the parts find each other


@cache
def is_available() -> bool:
    """Whether the PDF maker and the system's Pango libraries are there."""
    try:
        import weasyprint  # noqa: F401
    except (ImportError, OSError):
        return False
    return True


def make_pdf(html: str, css: str, photos: Mapping[str, bytes]) -> bytes:
    """A tagged PDF (PDF/UA-1) of the page; `photos` by the address the page gives them. Raises NotReady without Pango."""
    if not is_available():
        raise NotReady(
            "This server cannot make a PDF: the Pango libraries are missing. The report's page works and can be printed.",
            code="no_pango", hint="Install Pango (Debian, Ubuntu: libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0) and start the server again.",
        )
    from weasyprint import HTML
    from weasyprint.urls import FatalURLFetchingError

    # It warns of every rule of the sheet that is for screens.
    logging.getLogger("weasyprint").setLevel(logging.ERROR)
    own = {f"{BASE}style.css": (css.encode(), "text/css"), **{BASE + address: (data, "image/jpeg") for address, data in photos.items()}}
    try:
        return HTML(string=html, base_url=BASE, url_fetcher=_only(own)).write_pdf(pdf_variant="pdf/ua-1")
    except FatalURLFetchingError as error:  # no Exception, so that the maker itself does not swallow it
        raise BarnlightError(str(error), code="foreign_part") from None


def _only(own: Mapping[str, tuple[bytes, str]]) -> Any:
    """A fetcher that knows the report's own parts and refuses everything else."""
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    class OnlyOwnParts(URLFetcher):
        def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> URLFetcherResponse:
            if url not in own:
                raise FatalURLFetchingError("A report may hold nothing but its own parts.")
            body, kind = own[url]
            return URLFetcherResponse(url, body, {"Content-Type": kind})

    return OnlyOwnParts()
