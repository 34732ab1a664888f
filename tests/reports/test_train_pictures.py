"""The pictures of a train: what stands in each box, and how long each bar is.

The percentages are worked out by hand beside each check.
"""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

from lxml import etree

from welltold.interpretation import Goal, Need, Quantity, Stage, Train, WaterAfter
from welltold_reports.change_bars import bars_svg
from welltold_reports.homeowner.train_pictures import change_bars, train_picture
from welltold_reports.train_picture import train_svg


def mg(low: str | None, high: str | None, value: str | None = None) -> Quantity:
    def number(text: str | None) -> Decimal | None:
        return None if text is None else Decimal(text)

    return Quantity(number(value), number(low), number(high), "mg/L", None)


IRON, LEFT = mg("3.4", "3.4", "3.4"), mg("0", "0.34")
TRAIN = Train(
    stages=(
        Stage("air_injection_filter", "whole_house", ("iron", "arsenic"), ()),
        Stage("softener", "whole_house", ("hardness",), ()),
        Stage("arsenic_adsorber", "point_of_use", ("arsenic",), ()),
    ),
    water=(
        WaterAfter(
            "well",
            {
                "iron": IRON,
                "arsenic": mg("0.02", "0.02", "0.02"),
                "hardness": mg("357", "357", "357"),
                "sodium": mg("9.6", "9.6", "9.6"),
            },
        ),
        WaterAfter(
            "air_injection_filter",
            {
                "iron": LEFT,
                "hardness": mg("357", "357", "357"),
                "sodium": mg("9.6", "9.6", "9.6"),
            },
        ),
        WaterAfter(
            "softener", {"iron": LEFT, "hardness": mg("0", "17"), "sodium": mg("165", "175")}
        ),
        WaterAfter(
            "arsenic_adsorber",
            {"iron": LEFT, "hardness": mg("0", "17"), "sodium": mg("165", "175")},
        ),
    ),
)
ABSCISSA, ORDINATE = re.compile(r"[MH]([\d.]+)"), re.compile(r"(?:V|M[\d.]+ )([\d.]+)")
NEEDS = (Need(("iron",), "nuisance", Goal(Decimal("0.3"), "mg/L", None), ()),)


def test_each_box_tells_what_is_new_behind_it() -> None:
    picture = train_picture(TRAIN)
    assert picture is not None
    assert [box.name for box in picture.boxes] == [
        "Your well",
        "Air-injection iron filter",
        "Water softener",
        "Your house",
        "Arsenic cartridge",
        "Kitchen tap",
    ]
    well, filter_, softener, house, cartridge, tap = (box.water for box in picture.boxes)
    assert well == ("Iron 3.4 mg/L", "Hardness 357 mg/L", "Arsenic 20 µg/L", "Sodium 9.6 mg/L")
    assert filter_ == ("Iron up to 0.34 mg/L", "Arsenic: test here"), "nobody foretells the arsenic"
    assert softener == ("Hardness up to 17 mg/L", "Sodium 170 to 180 mg/L")
    assert house == cartridge == tap == ()


def test_the_words_say_all_that_the_picture_shows() -> None:
    picture = train_picture(TRAIN)
    assert picture is not None
    for box in picture.boxes:
        assert box.name in picture.alt
        assert all(line in picture.alt for line in box.water)


def test_bars_are_as_long_as_the_numbers() -> None:
    bars = change_bars(TRAIN, NEEDS)
    assert bars is not None
    iron, hardness, sodium = bars.changes
    # 0.34 of 3.4 is a tenth; the goal of 0.3 is 8.8 percent of 3.4.
    assert (iron.before, iron.after, iron.goal) == (100.0, (0.0, 10.0), 8.8)
    # 17 of 357 is 4.76 percent; nothing asks for a hardness.
    assert (hardness.before, hardness.after, hardness.goal) == (100.0, (0.0, 4.8), None)
    # 175 is the widest: 9.6 is 5.5 percent of it, 165 is 94.3 percent.
    assert (sodium.before, sodium.after) == (5.5, (94.3, 100.0))
    assert "Iron: 3.4 mg/L now; after: up to 0.34 mg/L." in bars.alt


def behind(house: Quantity, tap: Quantity) -> Train:
    """An iron filter for the whole house, then a membrane at the kitchen tap."""
    water = (
        WaterAfter("well", {"iron": IRON}),
        WaterAfter("air_injection_filter", {"iron": house}),
        WaterAfter("reverse_osmosis", {"iron": tap}),
    )
    tap_stage = Stage("reverse_osmosis", "point_of_use", ("nitrate",), ())
    return Train((TRAIN.stages[0], tap_stage), water=water)


def test_after_is_what_the_whole_house_gets_not_the_kitchen_tap() -> None:
    bars = change_bars(behind(LEFT, mg("0", "0.04")), NEEDS)
    assert bars is not None
    assert [(one.where, one.after_words) for one in bars.changes] == [("After", "up to 0.34 mg/L")]


def test_what_only_the_tap_changes_is_told_of_the_tap() -> None:
    bars = change_bars(behind(IRON, mg("0", "0.04")), NEEDS)
    assert bars is not None
    only = [(one.where, one.after_words) for one in bars.changes]
    assert only == [("Kitchen tap", "up to 0.04 mg/L")]


def test_no_more_than_before_is_no_forecast() -> None:
    """A filter of unknown effect leaves anything from none to all of it: test there."""
    unknown = behind(mg("0", "3.4"), mg("0", "3.4"))
    assert change_bars(unknown, NEEDS) is None
    picture = train_picture(unknown)
    assert picture is not None
    assert picture.boxes[1].water == ("Iron: test here",)


def test_every_arrow_ends_at_a_box_and_every_box_but_the_first_is_reached() -> None:
    picture = train_picture(TRAIN)
    assert picture is not None
    root = etree.fromstring(train_svg(picture, "a").encode())
    boxes = [
        tuple(float(box.get(name, "0")) for name in ("x", "y", "width", "height"))
        for box in root.iter("{*}rect")
    ]
    arrows = [path.get("d", "") for path in root.iter("{*}path") if path.get("marker-end")]
    reached = set()
    for way in arrows:
        x, y = float(ABSCISSA.findall(way)[-1]), float(ORDINATE.findall(way)[-1])
        near = [
            at
            for at, (left, top, wide, tall) in enumerate(boxes)
            if left - 2 <= x <= left + wide and top - 2 <= y <= top + tall
        ]
        assert len(near) == 1, way
        reached.add(near[0])
    assert reached == set(range(1, len(boxes)))


def test_nothing_is_drawn_where_no_water_was_worked_out() -> None:
    bare = replace(TRAIN, water=None)
    assert train_picture(bare) is None
    assert change_bars(bare, NEEDS) is None


def test_an_open_end_has_no_bar() -> None:
    water = (WaterAfter("well", {"iron": mg("3", None)}), WaterAfter("softener", {"iron": LEFT}))
    assert change_bars(replace(TRAIN, stages=TRAIN.stages[:1], water=water), NEEDS) is None


def test_pictures_are_well_formed_and_named() -> None:
    picture, bars = train_picture(TRAIN), change_bars(TRAIN, NEEDS)
    assert picture is not None
    assert bars is not None
    for drawn, alt in ((train_svg(picture, "a"), picture.alt), (bars_svg(bars, "b"), bars.alt)):
        root = etree.fromstring(drawn.encode())
        assert (root.get("role"), root.get("aria-label")) == ("img", alt)
    wide = etree.fromstring(train_svg(picture, "a").encode())
    assert float(wide.get("viewBox", "").split()[2]) == 408
    lefts = [float(box.get("x", "0")) for box in wide.iter("{*}rect")]
    assert all(left + 105 <= 408 for left in lefts), "every box lies within the picture"
