"""The person's own kit: a camera put in once, a lens at a sale held against it at once, with what is missing to know."""

from __future__ import annotations

import re
from collections.abc import Callable

from bench_phone import Phone
from bench_server import Server
from hands import add_piece, begin_session, id_after, tap, wait_until_kept
from playwright.sync_api import Page, expect


def type_in(page: Page, label: str, text: str) -> None:
    field = page.get_by_label(label)
    field.fill(text)
    field.blur()


def test_a_lens_at_a_sale_against_the_camera_at_home(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    page.goto(f"{server.url}/#/kit")
    tap(page, "Add a thing of mine")
    page.get_by_role("dialog").get_by_role("button", name="Camera").click()
    type_in(page, "What you call it", "Field camera at home")
    page.get_by_label("Format").select_option("4x5")
    for label, text in (("Shortest draw", "70"), ("Longest draw", "320"), ("Width of the lens board", "96"), ("Height of the lens board", "99")):
        type_in(page, label, text)
    expect(page.get_by_role("heading", level=1)).to_contain_text("Field camera at home")

    page.goto(f"{server.url}/#/")
    begin_session(page)
    visit = add_piece(page, "Lens", "In a shutter")
    line = page.get_by_role("link", name=re.compile("^Does it fit"))
    expect(line).to_have_text("Does it fit? 1 not known")
    # 210 mm with a circle of 300 mm on 4x5, in a shutter whose thread is 39.5 mm: all but the rear group is known then.
    for check, label, text in (("lens.fit.focal", "Marked focal length|Focal length, marked|focal", "210"), ("lens.fit.circle", "circle", "300"), ("lens.complete.ring", "thread", "39.5")):
        page.goto(f"{server.url}/#/visit/{visit}/check/{check}")
        field = page.get_by_label(re.compile(label, re.IGNORECASE)).and_(page.locator("input")).first
        field.fill(text)
        field.blur()
        expect(page.get_by_text(re.compile(rf": {text} mm$"))).to_be_visible()
    page.goto(f"{server.url}/#/visit/{visit}")
    expect(line).to_have_text("Does it fit? 1 fits if")
    line.click()
    page.get_by_text("Field camera at home").click()
    # Rise from 210 mm is arithmetic; here the circle of 300 mm leaves 82.3 mm upright on 120 x 95.
    expect(page.get_by_text("It covers, with 82.3 mm of rise in an upright picture.")).to_be_visible()
    expect(page.get_by_text("It reaches infinity; nearest from 611 mm")).to_be_visible()
    expect(page.get_by_text("Still to measure or ask: opening behind the board of the camera, width of the rear group of the lens.")).to_be_visible()
    # Bought: it goes into the kit, and comes out again with a way back.
    tap(page, "I bought it")
    expect(page.get_by_label("Focal length")).to_have_value("210")
    tap(page, "Take it out of the kit")
    expect(page.get_by_role("heading", level=1)).to_contain_text("My kit")
    expect(page.locator("main a.line")).to_have_count(1)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("main a.line")).to_have_count(2)


def test_what_goes_together_in_a_lot_and_the_last_figures_count(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    session = begin_session(page)
    camera = add_piece(page, "Camera", "Monorail")
    page.get_by_text("Name, type, format").click()
    page.get_by_label("Format", exact=True).first.select_option("4x5")
    page.goto(f"{server.url}/#/session/{session}?add=1")
    lens = add_piece(page, "Lens", "In a shutter")
    page.goto(f"{server.url}/#/visit/{lens}/measure/coverage?check=lens.fit.circle")
    type_in(page, "Image circle (mm)", "150")
    page.goto(f"{server.url}/#/session/{session}")
    tap(page, "What goes together")
    # Arithmetic: the diagonal of 120 x 95 is 153 mm.
    fold = page.locator("details.fold", has_text="A: ").filter(has_text="B: ")
    expect(fold).to_contain_text("Does not fit")
    # Two long names stand in a line of their own, not in a third of one beside the answer.
    assert fold.locator("summary > span").last.evaluate("(one) => one.getBoundingClientRect().width") > 200
    expect(fold).to_contain_text("150.0 mm against 153.1 mm")
    # Looked at again after its repair, the lens turns out to have a circle of 300 mm: that figure counts from then on, at every look.
    page.goto(f"{server.url}/#/visit/{lens}")
    page.get_by_text("Look at it again").click()
    tap(page, "After repair")
    page.wait_for_url(lambda url: lens not in url)
    page.goto(f"{server.url}/#/visit/{id_after(page, 'visit')}/measure/coverage?check=lens.fit.circle")
    type_in(page, "Image circle (mm)", "300")
    page.goto(f"{server.url}/#/visit/{camera}/fit")
    page.locator("details.fold summary").first.click()
    expect(page.get_by_text("It covers, with 82.3 mm of rise in an upright picture.")).to_be_visible()
    page.goto(f"{server.url}/#/session/{session}/fit")
    expect(page.locator("details.fold", has_text="A: ")).to_have_count(1)
    expect(page.locator("details.fold", has_text="A: ")).to_contain_text("300 mm against 153.1 mm")
