"""The catalogue covers the handbook: each thing to look at has its check, in numbers that are enough, ranked as the trade ranks it."""

import pytest

from barnlight import catalogue

DATA = catalogue.load()
BY_ID = {check["id"]: check for check in DATA["checks"]}

# Every item of handbook section 4, in its order, and the checks that look at it.
HANDBOOK_4 = {
    "camera: empty threaded holes, missing screws and knobs": ["camera.complete.parts"],
    "camera: parts replaced by others": ["camera.complete.replaced"],
    "camera: ground glass there, whole, matte side to the lens": ["camera.back.screen"],
    "camera: lens board there, its size measured": ["camera.complete.board"],
    "camera: spare parts, boards, bag": ["camera.complete.spares"],
    "camera: focus over its full travel, no jumped teeth": ["camera.movements.focus"],
    "camera: focus holds a load": ["camera.movements.focus_hold"],
    "camera: front rise, fall, shift, tilt, swing": ["camera.movements.front"],
    "camera: the same at the rear": ["camera.movements.rear"],
    "camera: every lock holds under a push": ["camera.movements.locks", "camera.movements.front_droop"],
    "camera: zero stops, standards parallel": ["camera.movements.zero"],
    "camera: opens, folds, bed locks": ["camera.movements.opens"],
    "camera: springs snappy": ["camera.back.springs"],
    "camera: holder goes in, seats on its rib, no play": ["camera.back.holder_seats"],
    "camera: back comes off and locks again, also turned": ["camera.back.comes_off"],
    "camera: light trap of the back whole": ["camera.back.light_trap"],
    "camera: depth from the holder seat to the matte side": ["camera.back.depth"],
    "camera: fresnel fitted, which side": ["camera.back.fresnel"],
    "camera: bellows in the dark at three lengths, folds and corners": ["camera.bellows.light"],
    "camera: covering peeling, stiff, patched": ["camera.bellows.covering"],
    "camera: glued edges not lifting": ["camera.bellows.edges"],
    "camera: shortest and longest extension": ["camera.bellows.reach"],
    "camera: sags into the light path": ["camera.bellows.sag"],
    "camera: cracks": ["camera.body.structure"],
    "camera: opened joints": ["camera.body.joints"],
    "camera: rot, insects": ["camera.body.pests"],
    "camera: rust": ["camera.body.rust"],
    "camera: tripod thread": ["camera.body.tripod"],
    "camera: lens-board seat tight and locking": ["camera.body.board_seat"],
    "camera: bumps that touch light-tightness": ["camera.body.bumps"],
    "camera: cosmetic state": ["camera.body.looks"],
    "lens: front group, rear group": ["lens.complete.groups"],
    "lens: retaining ring or flange": ["lens.complete.ring", "lens.no_shutter.flange"],
    "lens: names, serials and wear front and rear": ["lens.complete.rims", "lens.complete.married"],
    "lens: shims kept": ["lens.complete.shims"],
    "lens: board, caps": ["lens.complete.extras"],
    "lens: scratches front": ["lens.glass.front"],
    "lens: scratches rear": ["lens.glass.rear"],
    "lens: coating wear": ["lens.glass.coating"],
    "lens: dust inside": ["lens.glass.dust"],
    "lens: haze": ["lens.glass.haze"],
    "lens: fungus": ["lens.glass.fungus"],
    "lens: cement separation": ["lens.glass.separation"],
    "lens: edge paint flaking": ["lens.glass.edge_paint"],
    "lens: oil": ["lens.glass.oil"],
    "lens: dents front and rear": ["lens.barrel.dents"],
    "lens: filter thread": ["lens.barrel.filter_thread"],
    "lens: cells screw home": ["lens.barrel.cells_home"],
    "lens: every stop moves, even opening": ["lens.iris.moves"],
    "lens: no oil on the iris": ["lens.iris.dry"],
    "lens: scale belongs to this lens": ["lens.iris.scale"],
    "lens: f-number check": ["lens.iris.f_number"],
    "lens: cocks and fires": ["lens.shutter.fires"],
    "lens: every marked speed": ["lens.shutter.speeds"],
    "lens: slow train runs evenly": ["lens.shutter.slow_train"],
    "lens: T and B": ["lens.shutter.t_and_b"],
    "lens: blades flat, dry, close fully": ["lens.shutter.blades"],
    "lens: blades do not open before the trip": ["lens.shutter.slow_press"],
    "lens: preview or press-focus lever": ["lens.shutter.preview"],
    "lens: delayed action and M-X-V left alone": ["lens.shutter.delay"],
    "lens: flash contact": ["lens.shutter.flash"],
    "lens: kind of shutter": ["lens.shutter.kind"],
    "lens: mounting size and board hole": ["lens.fit.mount"],
    "lens: focal length": ["lens.fit.focal"],
    "lens: image circle": ["lens.fit.circle"],
    "holders: wood, plastic, metal": ["holders.build.material"],
    "holders: dents, cracks, opened corners": ["holders.build.corners"],
    "holders: rib there, goes in and seats": ["holders.build.seats"],
    "holders: loading flap and hinge tape": ["holders.light.flap"],
    "holders: light trap at the slide slot": ["holders.light.slot_trap"],
    "holders: slide: nicks, corners, lamp, straight": ["holders.light.slide"],
    "holders: both slides there, right size, light and dark side": ["holders.light.slides_there"],
    "holders: slide locks": ["holders.light.slide_drag"],
    "holders: lamp test": ["holders.light.leak_run"],
    "holders: divider flat, not cracked": ["holders.inside.divider"],
    "holders: film guides whole": ["holders.inside.guides"],
    "holders: dust, felt shedding": ["holders.inside.dust"],
    "holders: registers on": ["holders.build.plate_or_film", "holders.inside.plate_spring", "holders.build.roll_back"],
    "holders: family and film size": ["holders.build.size"],
    "holders: depth, five points a side": ["holders.depth.sides"],
    "holders: spread": ["holders.depth.spread"],
    "holders: may still be loaded": ["holders.start.loaded"],
}

# The leading check of each row of the five-minute pass (trade notes section 3), in the order of its rows: check, met, dear, seconds.
PASS_ROWS = {
    "camera": [
        ("camera.complete.board", "sometimes", "high", 10), ("camera.back.holder_seats", "sometimes", "high", 20), ("camera.body.structure", "sometimes", "high", 20),
        ("camera.movements.front_droop", "often", "medium", 20), ("camera.bellows.light", "often", "high", 75), ("camera.body.pests", "sometimes", "medium", 10),
        ("camera.back.screen", "sometimes", "medium", 15), ("camera.movements.locks", "sometimes", "medium", 15), ("camera.type.rangefinder", "often", "medium", 45),
        ("camera.movements.focus", "sometimes", "medium", 20), ("camera.back.comes_off", "sometimes", "medium", 25), ("camera.body.tripod", "sometimes", "low", 15),
    ],
    "lens": [
        ("lens.glass.haze", "often", "high", 10), ("lens.complete.groups", "sometimes", "high", 7), ("lens.glass.rear", "sometimes", "medium", 10), ("lens.complete.rims", "rare", "high", 10),
        ("lens.shutter.blades", "sometimes", "medium", 15), ("lens.iris.moves", "sometimes", "medium", 15), ("lens.shutter.t_and_b", "sometimes", "medium", 20),
        ("lens.shutter.speeds", "often", "medium", 60), ("lens.fit.circle", "rare", "high", 60), ("lens.barrel.dents", "rare", "low", 8),
    ],
    "holders": [
        ("holders.build.flat", "sometimes", "high", 6), ("holders.build.size", "often", "high", 20), ("holders.build.seats", "sometimes", "high", 10), ("holders.light.flap", "often", "medium", 8),
        ("holders.build.corners", "sometimes", "medium", 6), ("holders.inside.divider", "sometimes", "medium", 12), ("holders.light.slot_trap", "sometimes", "medium", 15),
        ("holders.light.slide", "sometimes", "low", 8),
    ],
}
# Rows that were split over several checks: their seconds must still add up to the row's.
SPLIT_ROWS = {
    30: ["lens.glass.haze", "lens.glass.fungus", "lens.glass.separation"],
    20: ["lens.complete.groups", "lens.complete.ring", "lens.barrel.cells_home"],
    35: ["lens.barrel.dents", "lens.barrel.filter_thread", "lens.shutter.flash", "lens.fit.mount"],
}


def score(check: dict) -> float:
    chances = {term["id"]: term["value"] for term in DATA["terms"]["chances"]}
    costs = {term["id"]: term["value"] for term in DATA["terms"]["cost_levels"]}
    return chances[check["chance"]] * costs[check["cost"]] / check["seconds"]


def test_every_item_of_the_handbook_has_its_check():
    assert [(item, check) for item, checks in HANDBOOK_4.items() for check in checks if check not in BY_ID] == []


@pytest.mark.parametrize(("kind", "at_least"), [("camera", 36), ("lens", 41), ("holders", 23)])
def test_there_are_enough_checks_of_a_kind(kind, at_least):
    assert sum(kind in check["kinds"] for check in DATA["checks"]) >= at_least


def test_there_are_enough_checks_for_bellows_and_the_rest():
    bellows = [check for check in DATA["checks"] if check["types"] == ["bellows"]]
    rest = [check for check in DATA["checks"] if check["kinds"] == ["other"] and check["types"] != ["bellows"]]
    assert len(bellows) >= 6
    assert len(rest) >= 8
    for kind in DATA["terms"]["piece_types"]["other"]:
        assert any(kind["id"] in check["types"] for check in bellows + rest), kind["id"]


@pytest.mark.parametrize("kind", PASS_ROWS)
def test_short_pass_figures_are_those_of_the_trade_notes(kind):
    for name, met, dear, seconds in PASS_ROWS[kind]:
        check = BY_ID[name]
        assert (check["chance"], check["cost"], check["seconds"]) == (met, dear, seconds), name


@pytest.mark.parametrize(("seconds", "parts"), SPLIT_ROWS.items())
def test_split_rows_keep_their_seconds(seconds, parts):
    assert sum(BY_ID[name]["seconds"] for name in parts) == seconds


@pytest.mark.parametrize("kind", PASS_ROWS)
def test_score_puts_the_rows_in_the_order_of_the_trade_notes(kind):
    scores = [score(BY_ID[name]) for name, *_ in PASS_ROWS[kind]]
    assert scores == sorted(scores, reverse=True)


def test_what_comes_before_any_score():
    # Trade notes section 3: ask leave; do not pull slides; be ready to record before anyone warms up the shutter.
    first = sorted((check["kinds"][0], check["first"], check["id"]) for check in DATA["checks"] if check["first"])
    assert first == [
        ("camera", 1, "camera.start.leave"), ("holders", 1, "holders.start.loaded"), ("lens", 1, "lens.start.leave"), ("lens", 2, "lens.shutter.cold_first"), ("other", 1, "other.box.contents"),
    ]


def test_cautions_stand_where_the_hand_is_about_to_do_it():
    # Handbook 9; each caution beside at least the checks where it matters most.
    places = {
        "camera.bellows.light": {"celluloid", "lamp_eyes"}, "camera.back.screen": {"glass_cuts"}, "camera.type.stand": {"counterbalance", "lifting"}, "camera.body.pests": {"mould", "insects"},
        "lens.glass.fungus": {"mould", "thorium"}, "lens.shutter.fires": {"no_shutter_opening", "no_fluids", "no_force"}, "lens.shutter.delay": {"leave_delay_alone"}, "lens.shutter.flash": {"flash"},
        "lens.start.leave": {"ask_first", "record_leave"}, "holders.start.loaded": {"no_slide_pull", "somebodys_pictures", "nitrate"},
        "other.box.contents": {"darkroom_bottles", "mercury", "radium", "mains", "batteries", "flash", "asbestos"},
    }
    for name, cautions in places.items():
        assert cautions <= set(BY_ID[name]["cautions"]), name


def test_looking_inside_a_holder_warns_about_its_slides():
    for check in DATA["checks"]:
        if "surely empty" in check["do"]:
            assert "no_slide_pull" in check["cautions"], check["id"]
