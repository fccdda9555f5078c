"""Writes the page of every golden view, which both sides must give letter by letter, empty lines aside: `python tests/files/report_pages/make.py`.

Run it after a change to the template or to tests/vectors/report_view.json, and read the difference before it is committed.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

from barnlight.report.one_file import one_file
from barnlight.report.render import page

HERE = Path(__file__).parent
CSS = "p { margin: 0; }\n"


def pages() -> dict[str, str]:
    """File name -> page of each view; and the first of them as one file, whose photos are their own addresses."""
    sets = json.loads((HERE.parents[1] / "vectors" / "report_view.json").read_text("utf-8"))
    cases = next(one["cases"] for one in sets if one["function"] == "report_view.report_view")
    made = {f"{case['id']}.html": page(case["out"]) for case in cases if "out" in case}
    first = next(iter(made.values()))
    photos = {address: address.encode() for address in re.findall(r'src="(photo/[0-9a-f]{64}\.jpg)"', first)}
    return made | {"one_file.html": one_file(first, CSS, photos)}


if __name__ == "__main__":
    for name, html in pages().items():
        (HERE / name).write_text(html, encoding="utf-8")
