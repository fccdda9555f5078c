"""A photo painted over or cut is a new file in which what was under the paint is no longer there, with or without fingers."""

from __future__ import annotations

import io
import os
from collections.abc import Callable
from pathlib import Path

from bench_phone import Phone
from bench_server import Server
from demo_screens import known_records
from hands import pair, tap, wait_until_kept
from PIL import Image
from playwright.sync_api import Page, expect


def picture_on(page: Page) -> Image.Image:
    """The photo as the screen shows it, in its own pixels."""
    page.wait_for_function("() => document.querySelector('.spot-picture img')?.naturalWidth > 0")
    data = page.evaluate("""async () => {
        const image = document.querySelector(".spot-picture img");
        const canvas = Object.assign(document.createElement("canvas"), { width: image.naturalWidth, height: image.naturalHeight });
        canvas.getContext("2d").drawImage(image, 0, 0);
        const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
        return [...new Uint8Array(await blob.arrayBuffer())];
    }""")
    return Image.open(io.BytesIO(bytes(data))).convert("L")


def test_paint_and_cut_by_finger_and_by_keys_with_a_way_back(demo_server: Server, phone: Callable[..., Phone]) -> None:
    page = phone("seller").open(demo_server.url)
    wait_until_kept(page)
    pair(page, demo_server, "Orla")
    records = known_records(page, demo_server)
    photo, facts = next((id_, one) for id_, one in records["photo"].items() if any(spot["photo"] == id_ for spot in records["spot"].values()))
    address = f"{demo_server.url}/#/visit/{facts['visit']}/photo/{photo}"
    page.goto(address)
    was = picture_on(page)
    spots = sum(spot["photo"] == photo for spot in records["spot"].values())
    expect(page.locator(".spot-list li")).to_have_count(spots)
    cover(page)
    page.get_by_role("button", name="Undo").click()
    page.wait_for_function(f"() => document.querySelector('.spot-picture img')?.naturalWidth === {was.width}")
    expect(page.locator(".spot-list li")).to_have_count(spots)

    cover(page)
    page.wait_for_function(f"() => document.querySelector('.spot-picture img')?.naturalWidth < {was.width}")
    now = picture_on(page)
    assert (now.width / was.width, now.height / was.height) == (0.8, 0.8), (now.size, was.size)
    # The box went from 0.2 to 0.4 of the width: in what is left, from 0.1 to 0.3 of the old, so 0.125 to 0.375 of the new.
    inside = now.crop((round(now.width * 0.14), round(now.height * 0.14), round(now.width * 0.36), round(now.height * 0.48)))
    assert inside.getextrema()[1] <= 12, "what is under the paint is black, but for the rounding of the JPEG"
    assert now.crop((round(now.width * 0.4), 0, now.width, now.height)).getextrema()[1] > 30
    assert page.locator(".spot-list li").count() <= spots


def cover(page: Page) -> None:
    """Paints over a box by finger and cuts to another by keys; back at the photo."""
    tap(page, "Paint over or cut")
    expect(page.get_by_role("heading", level=1)).to_have_text("Paint over or cut")
    picture = page.get_by_role("application")
    picture.hover()  # it stands still and in sight
    box = picture.bounding_box()
    page.mouse.move(box["x"] + box["width"] * 0.2, box["y"] + box["height"] * 0.2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] * 0.4, box["y"] + box["height"] * 0.5, steps=4)
    page.mouse.up()
    tap(page, "Cut to a box")
    picture.focus()
    # The cross begins in the middle; a step with Shift is a tenth.
    for key in ("Shift+ArrowLeft",) * 4 + ("Shift+ArrowUp",) * 4 + ("Enter",) + ("Shift+ArrowRight",) * 8 + ("Shift+ArrowDown",) * 8 + ("Enter",):
        page.keyboard.press(key)
    if folder := os.environ.get("BARNLIGHT_PICTURES"):
        page.screenshot(path=Path(folder) / "cover.png")
    tap(page, "Keep it like this")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Photo")
