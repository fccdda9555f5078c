"""Holder depth and screen-and-film by a person's hand: a hundred figures typed fast, kept as readings, undone; a screen that gained a sheet."""

from __future__ import annotations

import re
from collections.abc import Callable
from io import BytesIO

from bench_phone import Phone
from bench_server import Server
from hands import add_piece, begin_session, wait_until_kept
from PIL import Image, ImageDraw
from playwright.sync_api import Page, expect

DEPTH_CHECK = "holders.depth.sides"


def type_depths(page: Page, figures: list[str]) -> None:
    """As a caliper that is a keyboard does: figure, Enter, figure, Enter, into whatever has the focus."""
    for figure in figures:
        page.keyboard.type(figure)
        page.keyboard.press("Enter")


def test_a_set_of_holders_is_typed_fast_and_kept(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Holders", "Sheet-film holders", count=10)
    page.goto(f"{server.url}/#/visit/{visit}/check/{DEPTH_CHECK}")
    page.get_by_role("link", name="Measure").click()
    expect(page.get_by_text("0 of 100")).to_be_visible()
    page.get_by_role("textbox").focus()
    # Ten holders, two sides, five points; holder 4 side A is 0.3 mm too deep (published for 4x5: 5.004 mm, ±0.178, as quoted).
    figures = [f"{5.0 + (0.3 if side == 6 else 0.01 * (side % 3)) + 0.01 * (point % 2):.2f}" for side in range(20) for point in range(5)]
    type_depths(page, figures)
    expect(page.get_by_text("100 of 100")).to_be_visible()
    expect(page.get_by_text("All points are there.")).to_be_visible()
    # The last figure is taken back, asked for again, and typed once more.
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("99 of 100")).to_be_visible()
    type_depths(page, ["5.01"])
    expect(page.get_by_text("100 of 100")).to_be_visible()
    page.get_by_text("Each side (20)").click()
    expect(page.get_by_text(re.compile(r"^4 A: 5\.30"))).to_be_visible()
    # Its two sides lie further apart than one tolerance, so 4 is in no group; the side is named too deep once the format is said.
    expect(page.get_by_text("Apart: 4")).to_be_visible()
    page.get_by_text("Tool, format, which point").click()
    page.get_by_label("Format").select_option("4x5")
    page.get_by_label("The film lies on").select_option("divider")
    expect(page.get_by_text("too deep; 5 points")).to_be_visible()
    # Nothing is typed twice: the check shows the same readings, and so does a fresh start of the app.
    page.goto(f"{server.url}/#/visit/{visit}/check/{DEPTH_CHECK}?place=holder%3D4%3Bside%3Da")
    expect(page.get_by_label(re.compile("^Seating face to divider, point middle"))).to_have_value("5.30")
    page.goto(f"{server.url}/#/visit/{visit}/measure/holder_depth")
    page.reload()
    expect(page.get_by_text("100 of 100")).to_be_visible()


def test_a_figure_out_of_reach_is_asked_about_at_once(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(f"{server.url}")
    wait_until_kept(page)
    page.goto(f"{server.url}/#/bench")
    page.get_by_role("link", name="Holder depth").click()
    field = page.get_by_role("textbox")
    field.focus()
    # 0.197 in is the published depth of a 4x5 holder, as quoted; typed as mm it cannot be.
    type_depths(page, ["0.197"])
    expect(page.get_by_role("alert").filter(has_text="Was it in inches?")).to_be_visible()
    page.get_by_role("button", name="It was inches").click()
    expect(page.get_by_text("1 of 100")).to_be_visible()
    expect(field).to_be_focused()
    # By the keys on the screen: a slip, asked about, and kept by Enter on purpose.
    for key in "5.9":
        page.get_by_role("button", name=key, exact=True).click()
    page.get_by_role("button", name="Enter", exact=True).click()
    expect(page.get_by_role("alert").filter(has_text="off the other points")).to_be_visible()
    page.get_by_role("button", name="Keep it (Enter)").click()
    expect(page.get_by_text("2 of 100")).to_be_visible()
    type_depths(page, ["five"])
    expect(page.get_by_role("alert").filter(has_text="Type a length")).to_be_visible()
    expect(field).to_have_value("five")
    # The bench keeps what was typed on this phone.
    page.reload()
    expect(page.get_by_text("2 of 100")).to_be_visible()


def test_a_screen_that_gained_a_sheet(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Camera", "Monorail")
    page.goto(f"{server.url}/#/visit/{visit}/check/camera.back.depth")
    page.get_by_role("link", name="Measure").click()
    screen = page.get_by_label("Seat of the holder to the screen")
    screen.fill("0.190")
    screen.blur()
    page.get_by_role("button", name="It was inches").click()
    # 0.190 in is where usual film lies in a standard 4x5 holder: screen and film agree.
    expect(page.get_by_text("Screen and film agree as far as this can be measured.")).to_be_visible()
    # Derived: 1.5 mm of acrylic, n 1.49, is 0.493 mm: sharp nearer than focused, and packing goes in.
    page.get_by_label("Between lens and matte side").select_option("fresnel")
    page.get_by_label("Thickness of the sheet").fill("1.5")
    expect(page.get_by_text(re.compile("sharp nearer than you focused"))).to_be_visible()
    expect(page.get_by_text(re.compile("^−0.49 ± "))).to_be_visible()
    expect(page.get_by_text(re.compile("Move the screen away from the lens"))).to_be_visible()
    # Holders of one's own kit lend their depth.
    page.evaluate("location.hash = '#/kit'")
    page.get_by_role("button", name="Add a thing of mine").click()
    page.get_by_role("dialog").get_by_role("button", name="Holders").click()
    own = page.get_by_label("Depth to the divider")
    own.fill("5.01")
    own.blur()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Not named")
    page.goto(f"{server.url}/#/visit/{visit}/measure/focus?check=camera.back.depth")
    page.get_by_role("button", name="Take Not named: 5.01 mm").click()
    expect(page.get_by_label("Seating face to divider")).to_have_value("5.010 mm")
    # The depth stands at the check as a reading.
    page.get_by_role("link", name="Back to the check").click()
    expect(page.get_by_label(re.compile("point middle")).first).to_have_value("0.190")


def test_small_tools_reckon_and_keep_their_figures(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Lens", "In a shutter")
    page.goto(f"{server.url}/#/visit/{visit}/check/lens.iris.f_number")
    page.get_by_role("link", name="Measure").click()
    # Encyclopedia article "f-number": 100 mm with a 25 mm pupil is f/4; typed in inches by mistake it is noticed.
    for label, text in (("Focal length", "100"), ("Stop it is set to", "4"), ("Width of the hole", "25")):
        field = page.get_by_label(label)
        field.fill(text)
        field.blur()
    expect(page.get_by_text(re.compile(r"^f/4\.00 "))).to_be_visible()
    page.get_by_role("link", name="Back to the check").click()
    expect(page.get_by_label("Bright opening from the front")).to_have_value("25")
    # US Army SS0512: 12 in at 18 in, 2.25 times.
    page.goto(f"{server.url}/#/bench/bellows")
    for label, text in (("Shortest", "70"), ("Longest", "500"), ("Focal length", "12 in"), ("Draw of the picture", "18 in")):
        page.get_by_label(label).fill(text)
    expect(page.get_by_text("At the draw in mind: expose 2.25 times")).to_be_visible()
    page.reload()
    expect(page.get_by_text("At the draw in mind: expose 2.25 times")).to_be_visible()


def test_bad_figures_are_asked_about_and_none_is_lost(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Lens", "In a shutter")
    page.goto(f"{server.url}/#/visit/{visit}/check/lens.iris.f_number")
    page.get_by_role("link", name="Measure").click()
    # Arithmetic: 8.25 in are 209.55 mm; as millimetres that is no focal length.
    focal = page.get_by_label("Focal length")
    focal.fill("8.25")
    focal.blur()
    expect(page.get_by_role("alert").filter(has_text="Was it in inches?")).to_be_visible()
    page.get_by_role("button", name="It was inches").click()
    expect(focal).to_have_value("8.25 in")
    hole = page.get_by_label("Width of the hole")
    hole.fill("-25")
    hole.blur()
    expect(page.get_by_role("alert").filter(has_text="A length has no minus")).to_be_visible()
    page.get_by_label("All marks").fill("4.5 6.3 9 wide")
    expect(page.get_by_text("By its marks: Old continental scale. Not a number: wide.")).to_be_visible()
    # Away and back: the reading stands, and so does what is still wrong.
    page.get_by_role("link", name="Back to the check").click()
    page.get_by_role("link", name="Measure").click()
    expect(focal).to_have_value("8.25 in")
    expect(hole).to_have_value("-25")
    # A hole of 160 mm is larger than any expected, but it was read: it is kept on purpose.
    hole.fill("160")
    hole.blur()
    page.get_by_role("button", name="Keep it as typed").click()
    expect(page.get_by_role("button", name="Keep it as typed")).to_have_count(0)
    page.get_by_role("link", name="Back to the check").click()
    expect(page.get_by_label("Bright opening from the front")).to_have_value("160")
    # No glass has an index of 0.9, and no sheet is thicker than the seat is deep.
    page.goto(f"{server.url}/#/bench/focus")
    page.get_by_label("Seat of the holder to the screen").fill("4.83")
    page.get_by_label("Between lens and matte side").select_option("clear_sheet")
    page.get_by_label("Thickness of the sheet").fill("1.5")
    page.get_by_label("Its index").fill("0.9")
    expect(page.get_by_role("alert").filter(has_text="is no glass or plastic")).to_be_visible()
    page.get_by_label("Its index").fill("1.49")
    expect(page.get_by_role("img", name="Screen and film in the back, to scale")).to_be_visible()
    page.get_by_label("Thickness of the sheet").fill("6")
    expect(page.get_by_text("out of the seat, so that no holder could slide in")).to_be_visible()


def test_boards_circles_and_slides(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    page.goto(f"{server.url}/#/bench/mounting")
    page.get_by_label("Size of the shutter").select_option("1")
    # Published tables of board holes, agreeing within 0.2 mm: size 0 is 34.6 mm, size 1 is 41.6 mm.
    for label, text in (("Hole in", "34.6"), ("Width of the lens", "96"), ("Height of the lens", "99"), ("Width of the board", "139.7"), ("Height of the board", "139.7")):
        page.get_by_label(label).fill(text)
    expect(page.get_by_text("The hole is that of shutter size 0")).to_be_visible()
    expect(page.get_by_text("The hole must be made wider by 7.00 mm.")).to_be_visible()
    expect(page.get_by_text("a frame of 20.3 mm all round")).to_be_visible()
    page.get_by_label("Width of the lens").fill("160")
    expect(page.get_by_text("larger than the camera's: it cannot be carried")).to_be_visible()
    # Arithmetic: a circle of 210 mm on 120 x 95 lying leaves 38.7 mm of rise or 33.6 mm of shift; upright the other way round.
    page.goto(f"{server.url}/#/bench/coverage")
    page.get_by_label("Image circle").fill("210")
    for stands, words in (("Lying", "Rise 38.7 mm or shift 33.6 mm"), ("Upright", "Rise 33.6 mm or shift 38.7 mm")):
        expect(page.get_by_role("region", name=stands, exact=True)).to_contain_text(words)
        expect(page.get_by_role("img", name=f"{stands}: circle and picture to scale")).to_be_visible()
    page.get_by_label("Rise or fall").fill("35")
    page.get_by_label("Shift wanted").fill("30")
    expect(page.get_by_text("35.0 mm of rise and 30.0 mm of shift: a corner leaves the circle.").first).to_be_visible()
    # A slide is looked through for holes, and laid on a table: two tools at one check.
    page.goto(f"{server.url}/#/")
    begin_session(page)
    visit = add_piece(page, "Holders", "Sheet-film holders", count=2)
    page.goto(f"{server.url}/#/visit/{visit}/check/holders.light.slide?place=holder%3D2%3Bside%3Db")
    expect(page.get_by_role("link", name="Find leaks")).to_be_visible()
    page.get_by_role("link", name="Measure").click()
    gap = page.get_by_label("Under a slide")
    gap.fill("1.5")
    gap.blur()
    expect(page.get_by_text("The slide is bowed")).to_be_visible()
    page.get_by_role("link", name="Back to the check").click()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    expect(page.locator("input").and_(page.get_by_label(re.compile("[Gg]ap|[Bb]ow|slide"))).first).to_have_value("1.5")


def test_plate_holders_are_told_apart_first(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Holders", "Sheet-film holders", count=2)
    page.goto(f"{server.url}/#/visit/{visit}/measure/holder_depth")
    page.get_by_label("The film lies on").select_option("front_lip")
    expect(page.get_by_text("Depth to the divider says nothing here.")).to_be_visible()
    expect(page.get_by_role("group", name="Keys for figures")).to_have_count(0)
    page.get_by_label("The film lies on").select_option("divider")
    expect(page.get_by_role("group", name="Keys for figures")).to_be_visible()


def photo_with_ruler() -> bytes:
    """A drawn picture: 100 mm of ruler over 1000 px, a hole of 250 px."""
    picture = Image.new("RGB", (1200, 800), "#888888")
    draw = ImageDraw.Draw(picture)
    draw.line((100, 100, 1100, 100), fill="#ffffff", width=6)
    draw.ellipse((475, 275, 725, 525), fill="#ffffff")
    stored = BytesIO()
    picture.save(stored, "PNG")
    return stored.getvalue()


def tap_the_photo(page: Page) -> None:
    """Both ends of the ruler, both edges of the hole, and how long the ruler is."""
    page.get_by_text("Measure the hole on a photo").click()
    page.locator("input[type=file]").last.set_input_files({"name": "lens.png", "mimeType": "image/png", "buffer": photo_with_ruler()})
    sheet = page.get_by_role("application")
    expect(sheet.locator("img")).not_to_have_js_property("naturalWidth", 0)
    for x, y in ((100, 100), (1100, 100), (475, 400), (725, 400)):
        box = sheet.bounding_box()
        assert box
        sheet.click(position={"x": x / 1200 * box["width"], "y": y / 800 * box["height"]})
    page.get_by_label("Between the two marks").fill("100")
    page.get_by_role("button", name="Use this width").click()


def test_a_scale_of_another_lens_is_told_in_stops(server: Server, phone: Callable[..., Phone]) -> None:
    """A 150 mm stop scale on a 180 mm lens is 0.53 stop out, on a 210 mm 0.97 (figures: arithmetic, 2 log2 of the lengths)."""
    page = phone().open(f"{server.url}")
    wait_until_kept(page)
    page.goto(f"{server.url}/#/bench/aperture")
    page.get_by_label("Length on the scale plate").fill("150")
    for focal, words in (("210", "0.97 stop less light"), ("180", "0.53 stop less light"), ("150", "it belongs to this lens")):
        page.get_by_label("Focal length").fill(focal)
        expect(page.get_by_text(words)).to_be_visible()


def test_the_hole_is_measured_on_a_photo(server: Server, phone: Callable[..., Phone]) -> None:
    """100 mm with a 25 mm pupil is f/4 (encyclopedia article "f-number")."""
    page = phone().open(f"{server.url}")
    wait_until_kept(page)
    page.goto(f"{server.url}/#/bench/aperture")
    page.get_by_label("Focal length").fill("100")
    page.get_by_label("Stop it is set to").fill("4")
    tap_the_photo(page)
    # Taps on the whole picture of a small phone are good to two pixels of the screen: 25 mm comes out within its interval.
    result = page.locator(".card.lit").first
    expect(result).to_contain_text("marked for f/4.00")
    assert abs(float(page.get_by_label("Width of the hole").input_value().split()[0]) - 25) < 1.5
    # Closer in, arrow keys move the chosen mark by a pixel of the screen.
    page.get_by_role("button", name="Closer").click()
    page.get_by_role("application").focus()
    page.keyboard.press("ArrowLeft")
    expect(page.get_by_role("button", name="Use this width")).to_be_visible()
    # In a session the width is a reading at once, with the interval of its taps, and the photo lies at the check.
    page.goto(f"{server.url}/#/")
    begin_session(page)
    visit = add_piece(page, "Lens", "In a shutter")
    page.goto(f"{server.url}/#/visit/{visit}/check/lens.iris.f_number")
    page.get_by_role("link", name="Measure").click()
    tap_the_photo(page)
    width = page.get_by_label("Width of the hole")
    expect(width).to_have_value(re.compile(r"\d"))
    kept = width.input_value().split()[0]
    page.get_by_role("link", name="Back to the check").click()
    expect(page.get_by_label("Bright opening from the front")).to_have_value(kept)
    expect(page.locator(f"a[href*='/visit/{visit}/photo/']").first).to_be_visible()
