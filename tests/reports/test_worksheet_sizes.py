"""Sizes, settings and the pump on the work sheet, beside numbers that were put in by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from welltold.interpretation import Existing, Flow, Stage, Train, Worked
from welltold.messages import Message, catalogue, speaking
from welltold_reports.worksheet.sizes import SHOWN, existing_lines, pumping, size_lines


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
        worked("use_per_year.salt_lb_per_year", Decimal("1368.75")),
        worked("settings.compensated_gpg", Decimal("23.86"), "20.86 + 4 x 0.75 = 23.86 gpg."),
    ),
)
TRAIN = Train((SOFTENER,), flow=Flow(Decimal("6.976744"), Decimal("4.61"), fits=True))


def test_figures_stand_in_the_dealers_order_with_three_digits() -> None:
    (line,) = size_lines(TRAIN)
    assert line.figures == (
        "softening resin, tank 13 in, with iron and manganese 23.9 gpg, salt 15 lb, "
        "salt 1,370 lb a year"
    )
    assert line.arithmetic == ("20.86 + 4 x 0.75 = 23.86 gpg.",)


def test_two_tanks_are_told() -> None:
    twins = replace(SOFTENER, worked=(worked("size.tanks", Decimal(2)),))
    (line,) = size_lines(Train((twins,)))
    assert line.figures == "2 tanks"


def test_the_pump_is_told_beside_the_backwash_and_counted_down() -> None:
    told = " ".join(pumping(TRAIN))
    assert "gives 6.98 gpm; count on 6." in told
    assert "asks for 4.61 gpm. It fits" in told
    assert "About 33.7 gallons a day" in told


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
        assert names == {f"figure_{name}" for name in SHOWN if name != "medium"}
    with speaking("es"):
        (line,) = size_lines(TRAIN)
    assert "tanque de 13 pulg." in line.figures


def test_a_unit_that_stays_is_told_first_with_its_own_settings() -> None:
    """The new settings are the unit's; the size of a new one is a mere offer."""
    salt = worked("settings.salt_lb", Decimal(12))
    unit = Existing("softener", "reset", {"salt_lb": Decimal(12)}, (), (salt,))
    (entry,) = existing_lines((unit,))
    assert entry.name == "In place, set anew: water softener"
    assert entry.sentences == ("Set it to this: salt 12 lb.",)
    (line,) = size_lines(TRAIN, (unit,))
    assert line.name == "Water softener, only if a new one is bought"
    (line,) = size_lines(TRAIN, (replace(unit, do="replace"),))
    assert line.name == "Water softener"
