"""The screens of the app over the sample sessions: which there are, how to reach each, and the moment each is drawn."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from bench_server import ROOT, Server
from hands import LONG_MS, ask_now, make_report
from playwright.sync_api import Page, expect


@dataclass(frozen=True)
class Screen:
    """One screen: its name (of its picture, too), its address, and what is tapped there first, if anything."""

    name: str
    address: str
    then: Callable[[Page], None] | None = None


def sheet(button: str) -> Callable[[Page], None]:
    """Opens the sheet that a button brings up."""

    def tap(page: Page) -> None:
        page.get_by_role("button", name=button, exact=True).first.click()
        expect(page.get_by_role("dialog")).to_be_visible()

    return tap


def two_sides(page: Page) -> None:
    """Types two sides at the bench, one of them too deep, and the slip that is asked about."""
    page.get_by_text("Tool, format, which point").click()
    page.get_by_role("button", name="Begin a new set").click()
    field = page.get_by_role("textbox")
    for text in ("5.00", "5.01", "5.02", "4.99", "5.00", "5.31", "5.32", "5.30", "5.31", "5.33", "0.197"):
        field.fill(text)
        field.press("Enter")
    expect(page.get_by_role("alert").filter(has_text="Was it in inches?")).to_be_visible()


def a_screen_with_a_fresnel(page: Page) -> None:
    """A screen of 4.83 mm that gained a fresnel of 1.5 mm."""
    page.get_by_label("Seat of the holder to the screen").fill("4.83")
    page.get_by_label("Between lens and matte side").select_option("fresnel")
    page.get_by_label("Thickness of the sheet").fill("1.5")
    expect(page.get_by_role("heading", name="What it comes to")).to_be_visible()


def looked_through(page: Page) -> None:
    """Until the leak finder has been through the photo."""
    expect(page.get_by_text("Found by dark-")).to_be_visible(timeout=LONG_MS)


def a_lens_of_mine(page: Page) -> None:
    """A lens put into the kit, with its focal length."""
    sheet("Add a thing of mine")(page)
    page.get_by_role("dialog").get_by_role("button", name="Lens", exact=True).click()
    page.get_by_label("Focal length").fill("150")
    page.get_by_label("Focal length").blur()


def a_photo_tapped(page: Page) -> None:
    """A photo at the aperture tool with two marks on it."""
    page.get_by_text("Measure the hole on a photo").click()
    page.locator("input[type=file]").last.set_input_files(ROOT / "webapp/public/icons/icon-512.png")
    sheet = page.get_by_role("application")
    for place in (40, 200):
        sheet.click(position={"x": place, "y": 60})


def in_japanese(page: Page) -> None:
    """The list of questions in Japanese with the buyer's own words beside it, and all the further ones."""
    page.get_by_label("The seller reads").select_option("ja")
    page.get_by_text("More questions").click()
    expect(page.get_by_text("Japanese: not reviewed by a native speaker")).to_be_visible()


def an_answer(page: Page) -> None:
    """The sheet for one answer."""
    page.get_by_role("button", name="Note the answer: Lamp in the bellows").click()
    expect(page.get_by_role("dialog")).to_be_visible()


def joining(page: Page) -> None:
    """Two entries of one seller, about to be told as one."""
    page.get_by_text("Name, venue, place, note").click()
    sheet("The same person as another entry")(page)


def lines_pasted(page: Page) -> None:
    """Three prices: one that is clear, one that stands there already, one with a day that is none."""
    page.get_by_label("One price a line").fill("2026-10-03 150 mm with a board 280 EUR sold working\n2026-03-07 150 mm, boxed 275 EUR sold working\n2026-02-30 150 mm 90 EUR")
    expect(page.get_by_text("is not clear as a day")).to_be_visible()


def unfolded(page: Page) -> None:
    """Opens every folded part, where there is one."""
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")


def filled(fields: dict[str, str]) -> Callable[[Page], None]:
    """Types into the fields whose labels hold these words."""

    def fill(page: Page) -> None:
        for label, text in fields.items():
            page.get_by_label(label).first.fill(text)
        expect(page.locator(".card.lit").first).to_be_visible()

    return fill


def a_value_typed(page: Page) -> None:
    """A deal sheet with the figure of a working one, its ceiling shown as for a screen reader, and its figures open."""
    summary = page.get_by_text("Value of a working one")
    summary.click()
    page.get_by_role("button", name=re.compile("your own figure")).click()
    for label, text in (("Low, EUR", "430"), ("Likely, EUR", "520"), ("High, EUR", "640")):
        page.get_by_label(label).fill(text)
    page.get_by_role("button", name="Keep these figures").click()
    summary.click()
    for part in ("Repairs in question", "What comes on top", "Currency and rates"):
        page.get_by_text(part, exact=True).click()
    page.get_by_role("button", name="Hold to see the ceiling").evaluate("(one) => one.click()")
    expect(page.get_by_text("Walk away above")).to_be_visible()


def screens(page: Page, server: Server) -> list[Screen]:
    """Every screen; `page` is a phone paired with the demo server and done with its first sync."""
    records = known_records(page, server)
    visits = {records["piece"][visit["piece"]]["title"]: id_ for id_, visit in records["visit"].items()}

    def visit_of(title: str) -> str:
        return next(id_ for name, id_ in visits.items() if title in name)

    camera, lens, holders, listing = map(visit_of, ("cherry wood", "210 mm lens", "Ten sheet-film", "Monorail"))
    session = records["visit"][camera]["session"]
    photo = next(id_ for id_, one in records["photo"].items() if one["visit"] == camera
                 and any(spot["photo"] == id_ for spot in records["spot"].values()))
    dark = next(id_ for id_, one in records["photo"].items() if one["visit"] == camera and one["check"] == "camera.bellows.light")
    price = next(iter(records["price_note"]))
    want = next(id_ for id_, one in records["want"].items() if not one.get("found") and not one.get("dropped"))
    seller = next(one["seller"] for one in records["dealing"].values())
    say_differently(page, server, listing)
    report = make_report(page, f"{server.url}/#/visit/{camera}/report")
    return [
        Screen("sales", "/#/"), Screen("new-session", "/#/new"),
        Screen("session", f"/#/session/{session}"), Screen("add-piece", f"/#/session/{session}", sheet("Add a piece")),
        Screen("camera", f"/#/visit/{camera}"), Screen("lens", f"/#/visit/{lens}"), Screen("holders", f"/#/visit/{holders}"),
        Screen("pass", f"/#/visit/{listing}/pass/full"), Screen("pass-done", f"/#/visit/{camera}/pass/short?at=done"),
        Screen("check", f"/#/visit/{camera}/check/camera.bellows.light?place=extension%3Dfull"),
        Screen("check-reason", f"/#/visit/{camera}/check/camera.bellows.light", sheet("Not checked")),
        Screen("check-list", f"/#/visit/{camera}/check/camera.bellows.light", sheet("All checks")),
        Screen("check-claimed", f"/#/visit/{listing}/check/camera.bellows.light"),
        Screen("readings", f"/#/visit/{holders}/check/holders.depth.sides?place=holder%3D1%3Bside%3Da"),
        Screen("holder-depth", f"/#/visit/{holders}/measure/holder_depth"), Screen("bench", "/#/bench"),
        Screen("bench-depth", "/#/bench/holder_depth", two_sides), Screen("bench-focus", "/#/bench/focus", a_screen_with_a_fresnel),
        Screen("bench-aperture", "/#/bench/aperture", filled({"Focal length": "210", "Stop it is set to": "8", "Width of the hole": "25.5", "All marks": "5.6 8 11 16"})),
        Screen("bench-aperture-photo", "/#/bench/aperture", a_photo_tapped),
        Screen("bench-bellows", "/#/bench/bellows", filled({"Shortest": "70", "Longest": "320", "Focal length": "210"})),
        Screen("bench-coverage", "/#/bench/coverage", filled({"Image circle": "210", "Rise": "20", "Shift": "10"})),
        Screen("bench-mounting", "/#/bench/mounting", filled({"Thread of": "39.5", "Hole in": "34.6", "Width of the lens": "96", "Height of the lens": "99", "Width of the board": "139.7", "Height of the board": "139.7"})),
        Screen("bench-straightness", "/#/bench/straightness", filled({"top left": "200", "top right": "202", "bottom left": "200", "bottom right": "202"})),
        Screen("kit", "/#/kit", sheet("Add a thing of mine")), Screen("kit-item", "/#/kit", a_lens_of_mine), Screen("fit", f"/#/visit/{camera}/fit"), Screen("lot-fit", f"/#/session/{session}/fit", unfolded),
        Screen("aperture", f"/#/visit/{lens}/measure/aperture?check=lens.iris.f_number"),
        Screen("deal", f"/#/visit/{camera}/deal", a_value_typed), Screen("deal-talk", f"/#/visit/{camera}/talk"), Screen("deal-lot", f"/#/session/{session}/deal"),
        Screen("after-bought", f"/#/visit/{camera}/after", sheet("I bought it")), Screen("after-passed", f"/#/visit/{camera}/after", sheet("I passed")),
        Screen("after-repair", f"/#/visit/{camera}/after", sheet("Note a repair")), Screen("after-film", f"/#/visit/{camera}/after", sheet("Note a film test")),
        Screen("shutter", f"/#/visit/{lens}/shutter"), Screen("photo", f"/#/visit/{camera}/photo/{photo}"),
        Screen("leaks-how", "/#/leaks"),
        Screen("leaks", f"/#/visit/{camera}/leaks?check=camera.bellows.light&place=extension%3Dfull&photo={dark}", looked_through),
        Screen("report-piece", f"/#/visit/{camera}/report"), Screen("report-session", f"/#/session/{session}/report"),
        Screen("history", f"/#/visit/{camera}/history"), Screen("said-differently", f"/#/visit/{listing}/apart"), Screen("listing", f"/#/visit/{listing}"),
        Screen("room", "/#/room"), Screen("erase-session", f"/#/session/{session}/erase"), Screen("erase-seller", f"/#/seller/{seller}/erase"),
        Screen("inquiry", f"/#/visit/{listing}/inquiry"), Screen("inquiry-list", f"/#/visit/{lens}/inquiry", in_japanese),
        Screen("inquiry-answer", f"/#/visit/{listing}/inquiry", an_answer), Screen("unpacking", f"/#/visit/{listing}/unpacking"),
        Screen("sellers", "/#/sellers"), Screen("seller", f"/#/seller/{seller}"), Screen("seller-join", f"/#/seller/{seller}", joining), Screen("dealing", f"/#/seller/{seller}", sheet("Note a dealing")),
        Screen("ledger", "/#/ledger"), Screen("prices", "/#/prices"), Screen("price-group", "/#/prices/group?name=150+mm+in+a+shutter"), Screen("price", f"/#/price/{price}"),
        Screen("price-add", "/#/prices/add"), Screen("prices-pasted", "/#/prices/paste", lines_pasted), Screen("prices-reckoning", "/#/prices/reckoning"),
        Screen("wants", "/#/wants"), Screen("want", f"/#/want/{want}"), Screen("want-found", f"/#/want/{want}", sheet("It turned up")),
        Screen("device", "/#/device"), Screen("pair", "/#/pair"), Screen("let-in", "/#/device/another"), Screen("about", "/#/about"), Screen("lost", "/#/nowhere"),
        Screen("shared-report", report.removeprefix(server.url)),
    ]


def say_differently(page: Page, server: Server, visit: str) -> None:
    """Two phones that did not know of each other call the look at a piece two things."""
    known = page.request.get(f"{server.url}/api/changes?after=0").json()["changes"]
    space, stamp = known[0]["space"], max(change["stamp"] for change in known)
    said = [
        {"id": device * 32, "space": space, "kind": "visit", "record": visit, "field": "inspector", "value": value, "stamp": stamp[:15] + ".900000." + device * 32,
         "base": None, "settles": [], "device": device * 32, "author": author, "schema": 1}
        for device, author, value in (("d", "Tamsin", "Looked at pictures only, knows monorails"), ("e", "Orla", "Judged from eight pictures"))
    ]
    page.request.post(f"{server.url}/api/changes", headers={"X-Barnlight": "1"}, data={"epoch": None, "changes": said})
    page.goto(f"{server.url}/#/device")
    ask_now(page)


def known_records(page: Page, server: Server) -> dict[str, dict[str, dict]]:
    """kind -> id -> fields, as the server hands them to a paired device."""
    found: dict[str, dict[str, dict]] = {}
    after, more = 0, True
    while more:
        answer = page.request.get(f"{server.url}/api/changes?after={after}&limit=500").json()
        for change in answer["changes"]:
            found.setdefault(change["kind"], {}).setdefault(change["record"], {})[change["field"]] = change["value"]
        after, more = answer["next"], answer["more"]
    return found


def show(page: Page, server: Server, screen: Screen) -> None:
    """Goes there and waits until it is drawn, its pictures included."""
    page.goto("about:blank")
    page.goto(server.url + screen.address)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.get_by_text(re.compile("^(One moment|Asking the server|Looking up what would go|reading|Measuring)…$"))).to_have_count(0)
    if screen.then:
        screen.then(page)
    page.evaluate("""() => Promise.all([...document.images].filter((one) => one.loading !== "lazy").map((one) => one.decode().catch(() => undefined)))""")
