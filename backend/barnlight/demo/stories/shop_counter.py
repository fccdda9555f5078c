"""A lens over the counter of a shop: everything looked at, nothing wrong, ready to use up to 1/125."""

from datetime import datetime

from barnlight.demo.stories.ledger import keep_ledger
from barnlight.demo.story import Story
from barnlight.domain.exposure import parse_mark

SPEEDS_S = {"1": 1.04, "1/2": 0.512, "1/4": 0.258, "1/8": 0.1262, "1/15": 0.0651, "1/30": 0.0330, "1/60": 0.0166, "1/125": 0.00842}

# One firing to the next, as a share; three takes where film is made most, one elsewhere.
STRAYS = (1.0, 0.995, 1.008)
THREE_TAKES = ("1", "1/15", "1/30", "1/60")


def tell() -> Story:
    story = Story("shop_counter", "A 150 mm lens over the counter of an invented shop, every speed recorded.",
                  datetime(2026, 11, 6, 15, 20), 60, "Wren's phone")
    seller = story.put("seller", name="The shop by the weir", venue_kind="shop", place="Ostermill", note="Lets you sit at the back table.")
    session = story.put("session", title="Weir shop", venue_kind="shop", seller=seller, place="Ostermill", day=story.day, began=story.moment,
                        asking={"minor": 26000, "currency": "EUR"}, remote=False, note="", closed=False)
    piece = story.put("piece", kind="lens", type="in_shutter", title="150 mm lens in a rim-set shutter", format="4x5", shutter_kind="geared_rim_set",
                      speeds={"series": "current", "marks": [{"text": text, "seconds": parse_mark(text)} for text in (*SPEEDS_S, "1/250", "1/500")]},
                      marks=[{"place": "front rim", "text": "Orrin Vistar-L 5.6/150 11 208 331"}, {"place": "rear rim", "text": "11 208 331"}],
                      comes_with=[{"item": "retaining ring", "count": 1}, {"item": "caps", "count": 2}])
    visit = story.put("visit", session=session, piece=piece, occasion="sale", tag="A", asking={"minor": 26000, "currency": "EUR"}, began=story.moment,
                      temperature={"celsius": 20, "how": "typed"}, inspector="Wren; buying it to keep", **{"pass": "full"})
    story.photo(visit, "lens_front", caption="Front, reflected light")
    story.photo(visit, "lens_rim_front", check="lens.complete.rims", caption="Front rim")
    story.photo(visit, "lens_rim_rear", check="lens.complete.rims", caption="Rear rim")
    say = story.answer
    say(visit, "lens.start.leave", "in_order", seconds=5)
    story.firing(visit, "1", 1.07, cold=True, celsius=20)
    say(visit, "lens.shutter.cold_first", "in_order")
    for marked, open_time_s in SPEEDS_S.items():
        for ordinal, stray in enumerate(STRAYS if marked in THREE_TAKES else STRAYS[:1], 1):
            story.firing(visit, marked, open_time_s * stray, ordinal=ordinal, celsius=20, since_last_s=10)
        say(visit, "lens.shutter.speeds", "in_order", place=f"speed={marked}")
    for marked in ("1/250", "1/500"):
        say(visit, "lens.shutter.speeds", "cannot_tell", place=f"speed={marked}", good_up_to={"text": "1/125", "seconds": parse_mark("1/125")})
    for check in ("lens.shutter.kind", "lens.shutter.fires", "lens.shutter.slow_train", "lens.shutter.blades", "lens.shutter.slow_press", "lens.shutter.t_and_b",
                  "lens.shutter.cocking_lever", "lens.shutter.preview", "lens.shutter.cable", "lens.shutter.home_flush", "lens.complete.groups",
                  "lens.complete.ring", "lens.complete.married", "lens.complete.rims", "lens.complete.shims", "lens.glass.rear", "lens.glass.haze",
                  "lens.glass.fungus", "lens.glass.separation", "lens.glass.oil", "lens.barrel.dents", "lens.barrel.cells_home", "lens.iris.moves",
                  "lens.iris.dry", "lens.iris.scale", "lens.fit.mount"):
        say(visit, check, "in_order")
    say(visit, "lens.glass.front", "worn", remark="Two fine marks, seen only with a lamp held low.")
    say(visit, "lens.shutter.delay", "does_not_apply", reason_text="This shutter has no such lever.")
    say(visit, "lens.glass.coating", "not_checked", reason="too_dark")
    keep_ledger(story)
    return story
