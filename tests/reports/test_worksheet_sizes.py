"""Sizes, settings and the pump on the work sheet, beside numbers that were put in by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from welltold.interpretation import Existing, Flow, Stage, Train, Worked
from welltold.messages import Message, catalogue, speaking
from welltold_reports.worksheet.sizes import SHOWN, existing_lines, pumping, size_tables


def worked(of: str, value: Decimal | str, how: str = "") -> Worked:
    return Worked(of, value, "", Message("sizing.tank", {}, how), "arithmetic")


SOFTENER = Stage(
    "softener",
    "whole_house",
    ("hardness",),
    (),
    size={"waste_gal_day": Decimal("33.67"), "tank_in": Decimal(13)},
    worked=(
        worked("settings.salt_lb", Decimal(15)),
        worked("size.medium", "resin"),
        worked("size.tanks", Decimal(1)),
        worked("size.tank_in", Decimal(13)),
        worked("size.service_gpm", Decimal("6.31")),
        worked("size.carries_gpm", Decimal("3.98")),
        worked("use_per_year.salt_lb_per_year", Decimal("1368.75")),
        worked("settings.compensated_gpg", Decimal("23.86"), "20.86 + 4 x 0.75 = 23.86 gpg."),
    ),
)
TRAIN = Train((SOFTENER,), flow=Flow(Decimal("6.976744"), Decimal("4.61"), fits=True))


def test_figures_stand_in_the_dealers_order_and_are_no_finer_than_they_are_worth() -> None:
    """A need goes up to the next tenth, what a bed carries goes down; a year has two digits."""
    (table,) = size_tables(TRAIN)
    shown = {
        group.heading: [(one.name, one.value) for one in group.settings] for group in table.groups
    }
    assert shown == {
        "Order": [
            ("Filling", "softening resin"),
            ("Tanks", "1"),
            ("Tank width", "13 in"),
            ("House flow", "6.4 gpm"),
            ("Carries all the time", "3.9 gpm"),
        ],
        "Set": [("Compensated", "23.9 gpg"), ("Salt each time", "15 lb")],
        "In a year": [("Salt", "1,400 lb")],
    }
    assert table.arithmetic == ("20.86 + 4 x 0.75 = 23.86 gpg.",)


def test_what_comes_from_the_shelf_and_what_each_of_two_valves_is_set_to() -> None:
    """The dealer orders by his own name, and dials each valve: half of 18 lb and of 36,000."""
    twins = replace(
        SOFTENER,
        worked=(
            worked("size.shelf_item", "softener 48k"),
            worked("settings.salt_lb", Decimal(18)),
            worked("settings.salt_lb_each", Decimal(9)),
            worked("settings.capacity_grains_each", Decimal(18000)),
        ),
    )
    (table,) = size_tables(replace(TRAIN, stages=(twins,)))
    told = [(one.name, one.value) for group in table.groups for one in group.settings]
    assert told == [
        ("From your shelf", "softener 48k"),
        ("Salt each time", "18 lb"),
        ("Salt in each tank", "9 lb"),
        ("Capacity of each valve", "18,000 grains"),
    ]


def test_the_pump_is_told_beside_the_backwash_and_counted_down() -> None:
    told = " ".join(pumping(TRAIN))
    assert "gives 6.98 gpm; count on 6." in told
    assert "asks for 4.7 gpm. It fits" in told
    assert "About 34 gallons a day" in told


def test_a_pump_too_slow_or_not_timed_is_told_plainly() -> None:
    slow = replace(TRAIN, flow=Flow(Decimal(4), Decimal("5.45"), fits=False))
    assert "It does not fit: the bed would not be washed." in pumping(slow)
    untimed = pumping(replace(TRAIN, flow=Flow(None, Decimal("5.45"), fits=None)))
    assert untimed[0] == "The pump is not timed: do the bucket test first."
    assert "Whether the pump carries it is not known." in untimed
    assert pumping(replace(TRAIN, flow=None)) == ()


def test_every_figure_has_its_words_in_both_languages() -> None:
    for language in ("en", "es"):
        names = {name for name in catalogue("report", language) if name.startswith("figure_")}
        assert names == {f"figure_{name}" for name in SHOWN if name != "medium"} | {
            "figure_one_day"
        }
        labels = {name for name in catalogue("report", language) if name.startswith("label_")}
        assert labels == {f"label_{name}" for name in SHOWN}
    with speaking("es"):
        (table,) = size_tables(TRAIN)
    told = [(one.name, one.value) for one in table.groups[0].settings]
    assert ("Ancho del tanque", "13 pulg.") in told


def test_a_unit_that_stays_is_told_first_with_its_own_settings() -> None:
    """The new settings are the unit's; the size of a new one is a mere offer."""
    salt = worked("settings.salt_lb", Decimal(12))
    unit = Existing("softener", "reset", {"salt_lb": Decimal(12)}, (), (salt,))
    (entry,) = existing_lines((unit,))
    assert entry.name == "In place, set anew: water softener"
    assert entry.sentences == ("Set it to this: salt each time 12 lb.",)
    (table,) = size_tables(TRAIN, (unit,))
    assert table.name == "Water softener, only if a new one is bought"
    (table,) = size_tables(TRAIN, (replace(unit, do="replace"),))
    assert table.name == "Water softener"
