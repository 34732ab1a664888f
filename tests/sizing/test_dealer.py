"""What a dealer of twenty years would build, each with its arithmetic.

Where no source is named beside a number, it is common practice without a source.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from sizing.waters import hard, home, water

from welltold.sizing import load_shelf, size_stage

D = Decimal


def test_a_four_gallon_pump_gets_two_small_tanks_and_never_three() -> None:
    """A house of 2 bathrooms asks for 3 + 2 x 2 = 7 gpm; the pump washes 4.

    8 in: 0.349 ft2 x 10 gpm = 3.49 to wash, 2 x 5 x 0.349 = 3.49 at the short rate. Two carry 6.98
    of the 7: near enough. 9 in would need 4.42.
    """
    sized = size_stage("air_injection_filter", ["iron"], water(iron="3"), home(4, "2", "4"))
    assert sized.fits is False
    built = sized.first_way()
    assert (built.size["tanks"], built.size["tank_in"]) == (2, 8)
    assert built.size["backwash_gpm"] == D("3.49")
    # the other way stays on offer: a day of 300 gal and 7.85 gpm x 15 min, rounded up to tens
    assert sized.instead[-1].size["storage_gal"] == 420


def test_a_three_gallon_pump_washes_no_small_tank() -> None:
    """An 8 in tank needs 3.49 gpm: only a storage tank with a booster is left."""
    sized = size_stage("air_injection_filter", ["iron"], water(iron="3"), home(4, "2", "3"))
    assert [one.size.get("tanks") for one in sized.instead] == [1]
    assert "booster_gpm" in sized.first_way().size


@pytest.mark.parametrize(
    ("pump", "medium", "tanks", "inches"),
    [
        # 12 in of the blend: 0.785 ft2 x 12 = 9.42 gpm to wash, and 2 x 6 x 0.785 = 9.42 for 7
        ("10", "manganese_blend", 1, 12),
        # 10 in of the blend: 6.54 to wash and 6.54 of the 7 carried; light media 10 in only 5.45
        ("7", "manganese_blend", 1, 10),
        # 9 in of the blend carries 5.30, 10 in of light media 5.45: the larger one
        ("6", "coated_lightweight", 1, 10),
        # 9 in of light media would carry 4.42 of 7, 63 %: two 8 in of the blend carry 8.38
        ("5", "manganese_blend", 2, 8),
    ],
)
def test_an_oxidizing_filter_is_large_enough_for_its_house(
    pump: str, medium: str, tanks: int, inches: int
) -> None:
    """7 gpm for 2 bathrooms; seven tenths of it, 4.9 gpm, is the least that one tank carries."""
    sized = size_stage("oxidizing_filter", ["iron"], water(iron="3"), home(4, "2", pump))
    built = sized.first_way()
    assert (built.size["medium"], built.size["tanks"], built.size["tank_in"]) == (
        medium, tanks, inches,
    )  # fmt: skip
    assert built.fits is True


SHELF = "name,stage,medium,tank_in,media_ft3\nS-24,softener,resin,9,1\nS-36,softener,resin,10,1.5\n"


def test_one_softener_of_the_shelf_goes_ahead_of_two(tmp_path: Path) -> None:
    """24.05 gpg x 300 gal = 7,215 grains a day.

    For 6 days and a day's reserve: 7 x 7,215 / 24,000 = 2.1 ft3, more than the shelf has. Its 1.5
    ft3 hold 36,000 grains at 8 lb: 36,000 / 7,215 = 4.99 days, so 3 with the reserve day.
    Salt 4 x 7,215 / 3,000 = 9.6, up to 10 lb.
    """
    path = tmp_path / "shelf.csv"
    path.write_text(SHELF, "utf-8")
    sized = size_stage("softener", ["hardness"], hard("24.05"), home(4, "2"), load_shelf(path))
    assert (sized.size["shelf_item"], sized.size["tanks"]) == ("S-36", 1)
    assert (sized.settings["interval_days"], sized.settings["salt_lb"]) == (3, 10)
    assert "salt_lb_each" not in sized.settings


def test_two_softeners_are_set_each_to_their_half() -> None:
    """20 people x 75 gal x 40 grains = 60,000 a day; 20 ft3 in two tanks last 7 days.

    20 x 24,000 / 60,000 = 8 days, one of them reserve; never more than 6 by custom.
    7 x 60,000 = 420,000 grains and 420,000 / 3,000 = 140 lb for both, so 210,000 and 70 for each.
    """
    sized = size_stage("softener", ["hardness"], hard("40"), home(20, "4", "20"))
    assert sized.size["tanks"] == 2
    assert sized.settings["capacity_grains"] == 2 * sized.settings["capacity_grains_each"]
    assert sized.settings["capacity_grains_each"] == 210_000
    assert (sized.settings["salt_lb"], sized.settings["salt_lb_each"]) == (140, 70)
    said = [one.text for one in sized.cautions if one.code == "sizing.settings_together"]
    assert len(said) == 1
    assert "for all 2 tanks together" in said[0]
