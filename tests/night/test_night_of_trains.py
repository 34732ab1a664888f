"""The night stands beside the first train, and only where it can be reckoned."""

from __future__ import annotations

from decimal import Decimal

from treatment_wells import finding, plan, quiet

from welltold.interpretation import Train
from welltold.messages import speaking
from welltold.site import Home, Site, Well

D = Decimal


def trains(well: Well) -> tuple[Train, ...]:
    """Return the trains for a rusty, hard water in a home of four."""
    home = Site(home=Home(people=4, bathrooms=D(2)), well=well)
    told = (finding("iron", "3"), finding("hardness", "300"), quiet("ph", "7.4"))
    return plan(*told, site=home).trains


def test_only_the_first_train_has_a_night() -> None:
    found = trains(Well(pump_gpm=D(10), yield_gpm=D(2)))
    assert len(found) > 1
    assert found[0].night is not None
    assert [train.night for train in found[1:]] == [None] * (len(found) - 1)


def test_the_night_washes_every_bed_of_the_train() -> None:
    first = trains(Well(pump_gpm=D(10), yield_gpm=D(2)))[0]
    washed = {s.stage for s in first.stages if s.size and "backwash_gpm" in s.size}
    assert first.night is not None
    assert {start.stage for start in first.night.timetable} <= washed
    most = max(step.needed_gpm for step in first.night.series)
    rates = [s.size["backwash_gpm"] for s in first.stages if s.size and s.stage in washed]
    assert most >= sum(rates)


def test_without_a_timed_pump_no_night_is_told() -> None:
    assert {train.night for train in trains(Well())} == {None}


def test_the_night_is_told_in_spanish() -> None:
    with speaking("es"):
        first = trains(Well(pump_gpm=D(10), yield_gpm=D(2)))[0]
    assert first.night is not None
    assert first.night.why[0].text.startswith("La peor noche")
    assert "noche es un cálculo" in first.night.cautions[0].text
