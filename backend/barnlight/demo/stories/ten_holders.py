"""Ten sheet-film holders from a camera fair: two sides miss the depth, one flap hinge is split, one corner is cracked."""

from datetime import datetime

from barnlight.demo.story import Story

# Depths in inches, side a and side b of each holder, middle of the side; the corners stray from it by a few ten-thousandths.
MIDDLES_IN = {
    1: (0.1968, 0.1972), 2: (0.1975, 0.1964), 3: (0.1981, 0.1970), 4: (0.2071, 0.1979), 5: (0.1966, 0.1969),
    6: (0.1959, 0.1973), 7: (0.1977, 0.1982), 8: (0.1970, 0.1868), 9: (0.1963, 0.1967), 10: (0.1974, 0.1971),
}
STRAYS_IN = {"middle": 0.0, "top_left": 0.0004, "top_right": -0.0003, "bottom_left": 0.0006, "bottom_right": -0.0005}
MISSES = {(4, "a"), (8, "b")}


def tell() -> Story:
    story = Story("ten_holders", "Ten sheet-film holders at an invented fair, depth taken at five points a side.",
                  datetime(2026, 10, 4, 11, 5), 120, "Wren's phone")
    seller = story.put("seller", name="Table 31", venue_kind="fair", place="Dunmoss hall", note="Comes every autumn.")
    session = story.put("session", title="Autumn fair", venue_kind="fair", seller=seller, place="Dunmoss", day=story.day,
                        began=story.moment, asking={"minor": 15000, "currency": "EUR"}, remote=False, note="", closed=True)
    piece = story.put("piece", kind="holders", type="sheet", title="Ten sheet-film holders", format="4x5",
                      holders={"count": 10, "registers_on": "divider", "film_size": "4x5", "build": "plastic",
                               "numbers": [str(number) for number in MIDDLES_IN]},
                      marks=[{"place": "frame", "text": "", "none_marked": True}],
                      comes_with=[{"item": "holders", "count": 10}, {"item": "dark slides", "count": 20}])
    visit = story.put("visit", session=session, piece=piece, occasion="sale", tag="A", asking={"minor": 15000, "currency": "EUR"},
                      began=story.moment, inspector="Wren; gauge borrowed from a friend, zeroed on plate glass", **{"pass": "full"})
    story.photo(visit, "holder_stack_ten", caption="The ten, numbered with paper tags")
    say = story.answer
    say(visit, "holders.start.loaded", "in_order", remark="Opened in a changing bag with the seller's leave: all empty.")
    say(visit, "holders.start.count", "in_order")
    story.reading(visit, "holders.start.count", "holders_counted", "10", "count", instrument="eye", resolution_mm=None)
    story.reading(visit, "holders.start.count", "slides_counted", "20", "count", instrument="eye", resolution_mm=None)
    say(visit, "holders.build.size", "in_order")
    say(visit, "holders.build.plate_or_film", "in_order")
    say(visit, "holders.build.form", "in_order")
    for number in MIDDLES_IN:
        at = f"holder={number}"
        say(visit, "holders.build.seats", "in_order", place=at, seconds=8)
        say(visit, "holders.build.flat", "in_order", place=at, seconds=5)
        say(visit, "holders.build.corners", "faulty" if number == 3 else "in_order", place=at, seconds=5, faults=("cracked",) if number == 3 else (),
            remark="A chip is gone and the crack stands open." if number == 3 else "")
        say(visit, "holders.light.flap", "faulty" if number == 6 else "in_order", place=at, seconds=6, faults=("hinge",) if number == 6 else (),
            remark="Hinge tape split along half its length." if number == 6 else "")
        say(visit, "holders.light.leak_run", "in_order", place=at, seconds=9)
        say(visit, "holders.inside.divider", "in_order", place=at, seconds=6)
        for side in ("a", "b"):
            where = f"holder={number};side={side}"
            say(visit, "holders.light.slot_trap", "in_order", place=where, seconds=8)
            say(visit, "holders.light.slide", "in_order", place=where, seconds=6)
            say(visit, "holders.light.slides_there", "in_order", place=where, seconds=3)
            say(visit, "holders.inside.guides", "in_order", place=where, seconds=5)
            _depth(story, visit, number, side)
    story.photo(visit, "holder_corner_cracked", check="holders.build.corners", place="holder=3", caption="Number 3, the corner", spots=((0.44, 0.66, "crack"),))
    story.photo(visit, "holder_tabs_bright_dark", check="holders.start.loaded", caption="Bright and dark tabs")
    story.put("dealing", seller=seller, session=session, piece=piece, day=story.day, outcome="fair", knew="not_known",
              facets={"described_truly": "yes"}, note="Two thrown in for nothing after the gauge was shown.")
    return story


def _depth(story: Story, visit: str, number: int, side: str) -> None:
    middle_in = MIDDLES_IN[number]["ab".index(side)]
    for point, stray_in in STRAYS_IN.items():
        story.reading(visit, "holders.depth.sides", "depth", f"{middle_in + stray_in:.4f}", "in",
                      place=f"holder={number};point={point};side={side}", resolution_mm=0.01)
    missed = (number, side) in MISSES
    story.answer(visit, "holders.depth.sides", "faulty" if missed else "in_order", place=f"holder={number};side={side}",
                 faults=("side_off",) if missed else (), seconds=20)
