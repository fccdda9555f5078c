"""A monorail kit bought from a listing: claims first, then the unpacking, where two of them did not hold."""

from datetime import datetime

from barnlight.demo.story import Story
from barnlight.domain.ids import inquiry_id
from barnlight.domain.return_clock import return_until


def tell() -> Story:
    story = Story("far_listing", "A monorail kit from an invented online listing, and what came out of the box.",
                  datetime(2026, 10, 20, 21, 15), 120, "Wren's phone")
    seller = story.put("seller", name="glasshill_attic", venue_kind="social_group", place="by post",
                       note="Answers within a day. Says it was an uncle's.")
    listing = story.put("session", title="Monorail kit, listing", venue_kind="social_group", seller=seller, place="by post", day=story.day,
                        began=story.moment, asking={"minor": 29000, "currency": "EUR"}, remote=True,
                        note="Return within 14 days agreed in writing.", closed=True)
    piece = story.put("piece", kind="camera", type="monorail", title="Monorail camera with bag", format="4x5",
                      marks=[{"place": "rear standard", "text": "Velmark 45-M"}],
                      comes_with=[{"item": "rail clamp", "count": 1}, {"item": "lens board", "count": 2}])
    first = story.put("visit", session=listing, piece=piece, occasion="sale", tag="A", asking={"minor": 29000, "currency": "EUR"},
                      began=story.moment, **{"pass": "short"})
    story.photo(first, "listing_monorail", caption="The picture in the listing")
    claims = {
        "camera.type.rail_clamp": ("in_order", (), "photo", "The clamp is there, see picture."),
        "camera.bellows.light": ("in_order", (), "words", "Bellows is light tight, I looked through it."),
        "camera.movements.front_droop": ("in_order", (), "words", "All locks are firm."),
        "camera.back.screen": ("in_order", (), "photo", "Glass is whole."),
        "camera.body.pests": ("in_order", (), "words", "Kept in a dry room."),
    }
    for check, (outcome, faults, evidence, words) in claims.items():
        story.wait(minutes=1)
        story.put("claim", piece=piece, visit=first, check=check, place="", asserted={"outcome": outcome, "faults": list(faults)},
                  words=words, day=story.day, by="seller", evidence=evidence)

    inquiry = inquiry_id(listing, piece)
    asked = ["lamp_in_bellows", "all_laid_out", "send_back", "push_test", "stored_packed"]
    replies = {"lamp_in_bellows": "Bellows is light tight, I looked through it.", "send_back": "Yes, 14 days, you pay the way back."}
    story.put("inquiry", inquiry, piece=piece, session=listing, asked={"language": "de", "questions": asked, "day": story.day},
              replies={question: {"words": words, "day": story.day} for question, words in replies.items()},
              returns={"allowed": "yes", "days": 14, "pays": "buyer", "words": replies["send_back"], "day": story.day})
    story.wait(days=9, hours=-4)
    story.put("inquiry", inquiry, arrived=story.day, return_until=return_until(story.day, 14))
    box = story.put("session", title="Monorail kit, unpacking", venue_kind="social_group", seller=seller, place="at home", day=story.day,
                    began=story.moment, remote=False, note="", closed=True)
    visit = story.put("visit", session=box, piece=piece, occasion="unpacking", tag="A", began=story.moment,
                      inspector="Wren; I bought it and may sell it on", **{"pass": "full"})
    say = story.answer
    say(visit, "camera.start.leave", "does_not_apply", reason_text="it is mine now")
    say(visit, "camera.type.rail_clamp", "in_order")
    say(visit, "camera.complete.board", "in_order")
    say(visit, "camera.complete.parts", "in_order")
    say(visit, "camera.back.screen", "faulty", faults=("cracked",), remark="Crack across one corner, old: the dust in it is grey.")
    story.photo(visit, "ground_glass_cracked", check="camera.back.screen", caption="Crack, light from the side", spots=((0.72, 0.8, "crack"),))
    say(visit, "camera.back.screen_seat", "in_order")
    say(visit, "camera.back.holder_seats", "in_order")
    say(visit, "camera.back.springs", "in_order")
    say(visit, "camera.back.light_trap", "in_order")
    say(visit, "camera.type.system", "in_order")
    say(visit, "camera.type.rail", "in_order")
    say(visit, "camera.body.structure", "in_order")
    for length in ("short", "middle"):
        say(visit, "camera.bellows.light", "in_order", place=f"extension={length}")
    say(visit, "camera.bellows.light", "faulty", place="extension=full", faults=("pinholes",), remark="One bright point at a corner fold, with an LED lamp in a dark room.")
    story.photo(visit, "bellows_dark_middle", check="camera.bellows.light", place="extension=full", caption="Lamp inside", leaks=True)
    say(visit, "camera.bellows.edges", "in_order")
    say(visit, "camera.movements.focus", "in_order")
    say(visit, "camera.movements.front_droop", "in_order")
    say(visit, "camera.body.pests", "in_order", remark="No smell noticed, no holes or powder seen.")
    say(visit, "camera.back.depth", "not_checked", reason="no_tool")
    story.wait(days=1)
    story.put("repair", piece=piece, remedy="ground_glass", who="myself", sent=story.day, back=story.day, cost={"minor": 3400, "currency": "EUR"},
              what="New ground glass fitted, matte side to the lens.", note="From the spares drawer of the shop in town.")
    story.put("dealing", seller=seller, session=box, piece=piece, day=story.day, outcome="mixed", knew="did_not_know",
              facets={"described_truly": "no", "answered_questions": "yes", "packed_well": "yes", "sent_in_time": "yes", "put_right": "yes"},
              note="Gave back 60 EUR for the glass and the bellows without a fuss.")
    return story
