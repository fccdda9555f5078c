"""A ledger that grew over some years, added to a story: prices of invented sales, a rate, and wants, some of them found."""

from barnlight.demo.story import Story

# (day, what, amount in smallest units, currency, sold, state, kind of venue)
PRICES = {
    "150 mm in a shutter": (
        ("2022-03-12", "150 mm, rim-set, caps", 22000, "EUR", True, "working", "fair"),
        ("2022-10-01", "150 mm, slow speeds hang", 11000, "EUR", True, "faulty", "estate_sale"),
        ("2023-05-20", "150 mm, clean", 23500, "EUR", True, "working", "auction"),
        ("2024-02-17", "150 mm from a full outfit", 24000, "EUR", True, "working", "private_forum"),
        ("2024-09-08", "150 mm, window display", 39000, "EUR", False, "unknown", "shop"),
        ("2025-04-26", "150 mm, two marks in front", 24500, "EUR", True, "working", "fair"),
        ("2025-11-15", "150 mm, haze, shutter stands open", 9500, "EUR", True, "faulty", "social_group"),
        ("2026-03-07", "150 mm, boxed", 27500, "EUR", True, "working", "auction"),
        ("2026-06-21", "150 mm sent from overseas", 29000, "USD", True, "working", "online_shop"),
        ("2026-09-19", "150 mm, serviced this year", 28500, "EUR", True, "working", "private_forum"),
    ),
    "Folding field camera, 4x5": (
        ("2023-06-10", "Cherry, bellows patched", 42000, "EUR", True, "faulty", "estate_sale"),
        ("2024-04-13", "Cherry, with case", 61000, "EUR", True, "working", "fair"),
        ("2025-02-22", "Walnut, two boards", 58000, "EUR", True, "working", "private"),
        ("2026-05-09", "Cherry, new bellows", 66000, "EUR", True, "working", "auction"),
    ),
    "Sheet-film holder, 4x5": (
        ("2025-08-30", "One holder, wooden", 1200, "EUR", True, "unknown", "fair"),
        ("2026-04-18", "One holder, plastic, as new", 2000, "EUR", True, "working", "shop"),
    ),
}
# (what, group, most in cents, why, wanted, found, dropped)
WANTS = (
    ("150 mm in a rim-set shutter", "Lenses", 25000, "The one normal lens; all else waits for it.", "2024-01-10", "2024-02-17", None),
    ("90 mm for interiors", "Lenses", 30000, "Two commissions in narrow rooms.", "2024-03-02", "2024-05-11", None),
    ("300 mm in a large shutter", "Lenses", 28000, "Heads without bending over them.", "2024-09-14", "2025-04-26", None),
    ("Soft portrait lens in barrel", "Lenses", 20000, "Saw a print and wanted one, too.", "2025-01-05", None, "2025-01-26"),
    ("210 mm that covers with rise", "Lenses", 24000, "Church fronts.", "2025-06-01", "2025-07-13", None),
    ("75 mm with a centre filter", "Lenses", 45000, "Skies over the canal.", "2026-04-04", None, None),
    ("Bag bellows for the monorail", "Parts", 6000, "Nothing under 90 mm focuses without it.", "2026-09-06", None, None),
    ("Second folding camera", "Cameras", 40000, "", "2026-10-30", None, None),
)


def keep_ledger(story: Story) -> None:
    """Adds prices, a rate and wants at the story's own time; the book of one person, all of it invented."""
    for group, notes in PRICES.items():
        for day, what, minor, currency, sold, state, venue_kind in notes:
            story.wait(seconds=30)
            story.put("price_note", what=what, group=group, day=day, price={"minor": minor, "currency": currency}, sold=sold, state=state, venue_kind=venue_kind,
                      included={"premium": venue_kind == "auction", "tax": None, "freight": venue_kind == "online_shop"})
    story.put("exchange_rate", **{"from": "USD", "to": "EUR", "minor_per_minor": 0.9, "day": "2026-06-20"})
    for what, group, most, why, wanted, found, dropped in WANTS:
        story.wait(seconds=30)
        ended = {name: day for name, day in (("found", found), ("dropped", dropped)) if day}
        story.put("want", what=what, group=group, most={"minor": most, "currency": "EUR"}, why=why, wanted=wanted, **ended)
