"""How the pages of a report's PDF break: a photo stays with what was found, and no page is filled by one upright photo (rules: own)."""

from __future__ import annotations

import io

import pytest
from PIL import Image
from pypdf import PdfReader

from barnlight.report.pdf import is_available, make_pdf
from barnlight.report.render import style

pytestmark = pytest.mark.skipif(not is_available(), reason="WeasyPrint's libraries are not here")

PHOTO = f"photo/{'0' * 64}.jpg"
FINDING = f"""<!doctype html><html lang="en"><head><title>A report</title><link rel="stylesheet" href="style.css"></head><body><main>
<div class="filler"></div><section class="part group"><h3>Bellows</h3><section class="finding"><h4>Bellows in the dark</h4>
<p class="entry faulty"><span class="outcome">Faulty</span></p>
<div class="pictures"><figure><div class="picture"><img src="{PHOTO}" width="900" height="1600" alt="Photo 1"></div><figcaption><b>Photo 1</b></figcaption></figure></div>
</section></section></main></body></html>"""


def pages(filler_mm: int) -> PdfReader:
    upright = io.BytesIO()
    Image.new("RGB", (900, 1600), "sienna").save(upright, "JPEG")
    return PdfReader(io.BytesIO(make_pdf(FINDING, f"{style()} .filler {{ height: {filler_mm}mm }}", {PHOTO: upright.getvalue()})))


@pytest.mark.parametrize("filler_mm", [0, 150, 180, 200, 220, 235])
def test_a_photo_stands_on_the_page_of_its_finding(filler_mm: int) -> None:
    words = [page.extract_text() for page in pages(filler_mm).pages]
    [page] = [one for one in words if "Photo 1" in one]
    assert "Bellows in the dark" in page and "Faulty" in page


def test_an_upright_photo_takes_no_more_than_a_third_of_a_page() -> None:
    [page] = pages(0).pages
    heights_pt: list[float] = []
    page.extract_text(visitor_operand_before=lambda operator, _, matrix, __: heights_pt.append(abs(matrix[3])) if operator == b"Do" else None)
    assert heights_pt and max(heights_pt) < float(page.mediabox.height) / 3
