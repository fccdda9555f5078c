"""A house clearance: a folding camera that leaks at full extension, and a lens whose slow train lags."""

from datetime import datetime

from barnlight.demo.story import Story
from barnlight.domain.exposure import parse_mark
from barnlight.domain.ids import deal_id

OLD_SPEEDS = ("1", "1/2", "1/5", "1/10", "1/25", "1/50", "1/100", "1/200")


def tell() -> Story:
    story = Story("house_clearance", "A house clearance in an invented village: one folding camera, one lens.",
                  datetime(2026, 9, 12, 9, 40), 120, "Wren's phone")
    seller = story.put("seller", name="Clearance of the Marrowfield house", venue_kind="estate_sale", place="Marrowfield",
                       note="The niece lets you try everything. Cash only.")
    session = story.put("session", title="Marrowfield attic", venue_kind="estate_sale", seller=seller, place="Marrowfield",
                        day=story.day, began=story.moment, asking={"minor": 74000, "currency": "EUR"}, remote=False,
                        note="Asked for 740 EUR the lot; she has no idea what the lens is.", closed=True)
    camera, lens = _camera(story, session), _lens(story, session)
    story.wait(hours=2)
    story.put("dealing", seller=seller, session=session, day=story.day, outcome="fair", knew="did_not_know",
              facets={"described_truly": "yes", "answered_questions": "yes"},
              note="Took 560 for both after seeing the light through the bellows.")
    _terms(story, session, camera, lens)
    return story


def _terms(story: Story, session: str, camera: str, lens: str) -> None:
    """What the deal was reckoned by: a group of the ledger's prices, a figure of the person's own, the way there once for the lot."""
    for piece, terms in (
        (camera, {"currency": "EUR", "group": "Folding field camera, 4x5"}),
        (lens, {"currency": "EUR", "value": {"low_minor": 40000, "likely_minor": 48000, "high_minor": 56000}}),
        (None, {"currency": "EUR", "travel_minor": 1500}),
    ):
        story.put("deal", deal_id(session, piece or ""), **({"piece": piece} if piece else {}), session=session, terms=terms)


def _camera(story: Story, session: str) -> str:
    piece = story.put("piece", kind="camera", type="folding_field", title="Folding field camera, cherry wood", format="4x5",
                      marks=[{"place": "bed plate", "text": "Tarnbeck & Osk, No. 418"}],
                      comes_with=[{"item": "lens board", "count": 1}, {"item": "ground glass", "count": 1}, {"item": "bag", "count": 0}])
    visit = story.put("visit", session=session, piece=piece, occasion="sale", tag="A", asking={"minor": 38000, "currency": "EUR"},
                      began=story.moment, inspector="Wren, nine years of field cameras; bought it myself", **{"pass": "full"})
    story.photo(visit, "field_camera_front", caption="As it stood on the table")
    story.photo(visit, "field_camera_rear_spring_missing", check="camera.back.springs", caption="Back: the spring on one side is gone", spots=((0.34, 0.73, "empty screw holes"),))
    say = story.answer
    say(visit, "camera.start.leave", "in_order", seconds=5)
    say(visit, "camera.complete.board", "in_order")
    story.reading(visit, "camera.complete.board", "board_width", "96.5", "mm", instrument="caliper", resolution_mm=0.05)
    say(visit, "camera.complete.parts", "worn", remark="One knob of another pattern on the rear rise; it works.")
    say(visit, "camera.back.screen", "in_order", seconds=15)
    say(visit, "camera.back.screen_seat", "in_order")
    say(visit, "camera.back.holder_seats", "in_order", seconds=20)
    say(visit, "camera.back.springs", "faulty", faults=("weak",), remark="One spring is missing; its two screw holes are empty.")
    say(visit, "camera.back.light_trap", "in_order")
    say(visit, "camera.back.comes_off", "in_order")
    say(visit, "camera.body.structure", "in_order", seconds=20)
    say(visit, "camera.movements.front_droop", "worn", faults=(), remark="Gives a little when pushed; comes back.")
    say(visit, "camera.bellows.light", "in_order", place="extension=short", seconds=70)
    say(visit, "camera.bellows.light", "in_order", place="extension=middle", seconds=40)
    say(visit, "camera.bellows.light", "faulty", place="extension=full", seconds=50, faults=("pinholes",),
        remark="Four points along the folds, only at full extension. LED lamp inside, coat over the head.")
    story.photo(visit, "bellows_dark_full", check="camera.bellows.light", place="extension=full",
                caption="Lamp inside, full extension", leaks=True)
    say(visit, "camera.bellows.covering", "faulty", faults=("stiff",), remark="Stiff; the folds may crack in use.")
    say(visit, "camera.bellows.edges", "in_order")
    say(visit, "camera.bellows.reach", "in_order")
    story.reading(visit, "camera.bellows.reach", "shortest", "70", "mm", instrument="ruler", resolution_mm=0.5)
    story.reading(visit, "camera.bellows.reach", "longest", "405", "mm", instrument="ruler", resolution_mm=0.5)
    say(visit, "camera.movements.focus", "in_order")
    say(visit, "camera.movements.focus_hold", "worn")
    say(visit, "camera.movements.opens", "in_order")
    say(visit, "camera.body.pests", "in_order", remark="No holes or powder seen; smells of the attic.")
    say(visit, "camera.body.tripod", "in_order")
    say(visit, "camera.body.looks", "worn")
    say(visit, "camera.back.depth", "not_checked", reason="no_tool")
    say(visit, "camera.body.board_seat", "not_checked", reason="no_time")
    return piece


def _lens(story: Story, session: str) -> str:
    piece = story.put("piece", kind="lens", type="in_shutter", title="210 mm lens in a dial-set shutter", format="4x5",
                      shutter_kind="geared_dial_set",
                      speeds={"series": "older", "marks": [{"text": text, "seconds": parse_mark(text)} for text in OLD_SPEEDS]},
                      marks=[{"place": "front rim", "text": "Quellbrandt-Orvik Testanor 1:5.6 / 210 mm Nr 0048213"}, {"place": "rear rim", "text": "", "none_marked": True}],
                      comes_with=[{"item": "retaining ring", "count": 1}, {"item": "lens board", "count": 1}, {"item": "caps", "count": 0}])
    visit = story.put("visit", session=session, piece=piece, occasion="sale", tag="B", asking={"minor": 36000, "currency": "EUR"},
                      began=story.moment, temperature={"celsius": 16, "how": "typed"},
                      inspector="Wren, nine years of field cameras; bought it myself", **{"pass": "full"})
    story.photo(visit, "lens_front", caption="Front, reflected light")
    story.photo(visit, "lens_rim_front", check="lens.complete.rims", caption="Front rim")
    say = story.answer
    say(visit, "lens.start.leave", "in_order", seconds=5)
    story.firing(visit, "1", 2.02, cold=True, celsius=16)
    say(visit, "lens.shutter.cold_first", "faulty", faults=("slow_cold",), remark="The first firing of the day ran a whole stop long.")
    for marked, times_s in {"1": (1.68, 1.61, 1.72), "1/2": (0.79,), "1/5": (0.278, 0.292, 0.283), "1/10": (0.131,), "1/25": (0.0412, 0.0406, 0.0415),
                            "1/50": (0.0207,), "1/100": (0.0107, 0.0109, 0.0106)}.items():
        for ordinal, open_time_s in enumerate(times_s, 1):
            story.firing(visit, marked, open_time_s, ordinal=ordinal, celsius=16, since_last_s=12)
    say(visit, "lens.shutter.fires", "in_order")
    say(visit, "lens.shutter.slow_train", "faulty", faults=("stalls",), remark="Evens out after a few firings; gum in the train, by the sound of it.")
    for marked, outcome in {"1": "faulty", "1/2": "faulty", "1/5": "faulty", "1/10": "worn", "1/25": "in_order", "1/50": "in_order", "1/100": "in_order"}.items():
        say(visit, "lens.shutter.speeds", outcome, place=f"speed={marked}", faults=("slow_group",) if outcome == "faulty" else ())
    say(visit, "lens.shutter.speeds", "cannot_tell", place="speed=1/200", good_up_to={"text": "1/100", "seconds": parse_mark("1/100")})
    say(visit, "lens.shutter.blades", "in_order")
    say(visit, "lens.shutter.slow_press", "in_order")
    say(visit, "lens.shutter.t_and_b", "in_order")
    say(visit, "lens.shutter.cocking_lever", "in_order")
    say(visit, "lens.shutter.delay", "does_not_apply", reason_text="this shutter has none")
    say(visit, "lens.complete.groups", "in_order")
    say(visit, "lens.complete.ring", "in_order")
    say(visit, "lens.complete.married", "in_order")
    say(visit, "lens.complete.rims", "in_order", remark="Number on the front rim only, which is usual.")
    say(visit, "lens.glass.front", "worn", remark="Fine cleaning marks, seen with a small LED lamp.")
    say(visit, "lens.glass.rear", "in_order", remark="None seen with this lamp.")
    say(visit, "lens.glass.haze", "in_order", remark="None seen with this lamp.")
    say(visit, "lens.glass.fungus", "in_order", remark="None seen with this lamp.")
    say(visit, "lens.glass.separation", "faulty", faults=("rim",), remark="A thin bright crescent at the edge of the rear group.")
    story.photo(visit, "lens_separation", check="lens.glass.separation", caption="Edge, lamp through from the rear", spots=((0.68, 0.28, "crescent"),))
    say(visit, "lens.barrel.cells_home", "in_order")
    say(visit, "lens.iris.moves", "in_order")
    say(visit, "lens.iris.scale", "in_order")
    say(visit, "lens.fit.mount", "cannot_tell")
    say(visit, "lens.fit.circle", "not_checked", reason="no_tool")
    return piece
