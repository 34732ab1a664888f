"""Each hint for or against a cause, on either side of its edge, and when a cause is listed at all.

The edges are those of 40 CFR 143.3 and of the leaflets named in ``causes.csv``, typed again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

import pytest

from welltold.interpretation import Cause
from welltold.site import Equipment, Home, Site, Tap

if TYPE_CHECKING:
    from .conftest import Bench

Row = tuple[str, ...]
Side = Literal["for_", "against"]
# what is seen, cause, analyte, unit, a number that speaks, one that does not, for or against
EDGES: list[tuple[str, str, str, str, str, str, Side]] = [
    ("milky_spurting", "methane", "methane", "mg/L", "1.1", "0.9", "for_"),
    ("milky_spurting", "methane", "methane", "mg/L", "0.9", "1.1", "against"),
    ("cloudy_clears_from_bottom", "air", "turbidity", "NTU", "5.5", "4.5", "against"),
    ("clear_then_rusty", "dissolved_iron", "iron", "mg/L", "0.35", "0.25", "for_"),
    ("clear_then_rusty", "dissolved_iron", "ph", "SU", "6.9", "7.1", "for_"),
    ("clear_then_rusty", "dissolved_iron", "iron", "mg/L", "0.25", "0.35", "against"),
    ("rusty_at_once", "rust_particles", "iron", "mg/L", "0.35", "0.25", "for_"),
    ("rusty_at_once", "rust_particles", "turbidity", "NTU", "1.1", "0.9", "for_"),
    ("rusty_at_once", "rust_particles", "iron", "mg/L", "0.25", "0.35", "against"),
    ("rusty_inside_not_outside", "corroding_iron_pipe", "ph", "SU", "6.4", "6.6", "for_"),
    ("rusty_hot_only", "rusting_heater", "iron", "mg/L", "0.25", "0.35", "for_"),
    ("rusty_hot_only", "rusting_heater", "ph", "SU", "6.4", "6.6", "for_"),
    ("rusty_hot_only", "rusting_heater", "iron", "mg/L", "0.35", "0.25", "against"),
    ("slime_in_tank", "iron_bacteria", "iron", "mg/L", "0.35", "0.25", "for_"),
    ("slime_in_tank", "iron_bacteria", "iron", "mg/L", "0.09", "0.11", "against"),
    ("black_specks", "manganese", "manganese", "mg/L", "0.06", "0.04", "for_"),
    ("black_specks", "manganese", "manganese", "mg/L", "0.04", "0.06", "against"),
    ("black_specks", "worn_parts", "manganese", "mg/L", "0.04", "0.06", "for_"),
    ("black_specks", "worn_parts", "manganese", "mg/L", "0.06", "0.04", "against"),
    ("rotten_egg_cold", "sulfur_in_well", "hydrogen_sulfide", "mg/L", "0.11", "0.09", "for_"),
    ("rotten_egg_hot_only", "sulfur_in_heater", "hydrogen_sulfide", "mg/L", "0.11", "0.09",
     "against"),
    ("rotten_egg_hot_only", "sulfur_in_heater", "sulfate", "mg/L", "30", "<1", "for_"),
    ("blue_green_stains", "copper_corrosion", "ph", "SU", "6.4", "6.6", "for_"),
    ("blue_green_stains", "copper_corrosion", "copper", "mg/L", "1.1", "0.9", "for_"),
    ("blue_green_stains", "copper_corrosion", "ph", "SU", "7.6", "7.4", "against"),
    ("blue_green_stains", "copper_corrosion", "copper", "mg/L", "0.19", "0.21", "against"),
    ("scale", "hardness_scale", "hardness", "mg/L", "125", "115", "for_"),
    ("scale", "hardness_scale", "hardness", "mg/L", "55", "65", "against"),
    ("tea_coloured", "tannin", "total_organic_carbon", "mg/L", "3.1", "2.9", "for_"),
    ("tea_coloured", "tannin", "iron", "mg/L", "0.35", "0.25", "against"),
    ("grit", "sediment", "turbidity", "NTU", "1.1", "0.9", "for_"),
    ("grit", "sediment", "total_suspended_solids", "mg/L", "5.5", "4.5", "for_"),
    ("salty_taste", "salt", "chloride", "mg/L", "260", "240", "for_"),
    ("salty_taste", "salt", "sodium", "mg/L", "61", "59", "for_"),
    ("salty_taste", "salt", "chloride", "mg/L", "95", "105", "against"),
    ("metallic_taste", "metals_taste", "iron", "mg/L", "0.35", "0.25", "for_"),
    ("metallic_taste", "metals_taste", "manganese", "mg/L", "0.06", "0.04", "for_"),
    ("metallic_taste", "metals_taste", "copper", "mg/L", "1.1", "0.9", "for_"),
    ("metallic_taste", "metals_taste", "zinc", "mg/L", "5.1", "4.9", "for_"),
    ("metallic_taste", "metals_taste", "ph", "SU", "6.4", "6.6", "for_"),
]  # fmt: skip


def causes(bench: Bench, seen: tuple[str, ...], *rows: Row, **more: Any) -> dict[str, Cause]:
    taken = more.pop("taken", "first_draw")
    after = more.pop("after", ())
    site = Site(home=Home(**more), tap=Tap(seen), equipment=Equipment(after=after))
    view = bench.view(*(bench.result(*row) for row in rows), site=site, sample={"taken": taken})
    return {one.cause: one for one in view.causes or ()}


@pytest.mark.parametrize(("seen", "cause", "slug", "unit", "speaks", "silent", "side"), EDGES)
def test_a_number_speaks_only_beyond_its_edge(
    bench: Bench, seen: str, cause: str, slug: str, unit: str, speaks: str, silent: str, side: Side
) -> None:
    told = [
        len(getattr(causes(bench, (seen,), (slug, text, unit))[cause], side))
        for text in (speaks, silent)
    ]
    assert told[0] - told[1] == 1


def test_little_nitrate_lets_the_bacteria_of_a_heater_live(bench: Bench) -> None:
    # Water Supply 22(2), IWA, 2022: usually under 2 mg/L as N
    seen = ("rotten_egg_hot_only",)
    low, high = (
        causes(bench, seen, ("nitrate", text, "mg/L", "N"))["sulfur_in_heater"]
        for text in ("1.9", "2.1")
    )
    assert len(low.for_) - len(high.for_) == 1


@pytest.mark.parametrize(
    ("seen", "cause", "rows", "house", "side"),
    [
        ("rusty_inside_not_outside", "corroding_iron_pipe", (), {"piping": "galvanized"}, "for_"),
        ("rusty_inside_not_outside", "corroding_iron_pipe", (), {"piping": "plastic"}, "against"),
        ("blue_green_stains", "copper_corrosion", (), {"piping": "copper"}, "for_"),
        ("salty_taste", "salt", (), {"after": ("softener",)}, "for_"),
        ("rotten_egg_cold", "sulfur_in_well", (("hydrogen_sulfide", "<0.01", "mg/L"),),
         {"after": ("carbon_filter",)}, "against"),
        ("tea_coloured", "tannin", (("tannin", "2", "mg/L"),), None, "for_"),
    ],
)  # fmt: skip
def test_the_house_speaks_too(
    bench: Bench, seen: str, cause: str, rows: tuple[Row, ...], house: Any, side: Side
) -> None:
    told = causes(bench, (seen,), *rows, **(house or {}))[cause]
    bare = causes(bench, (seen,), *(rows if house else ()))[cause]
    assert len(getattr(told, side)) - len(getattr(bare, side)) == 1


def test_a_filter_says_nothing_against_a_smell_that_was_measured(bench: Bench) -> None:
    seen, found = ("rotten_egg_cold",), ("hydrogen_sulfide", "1", "mg/L")
    told = causes(bench, seen, found, after=("carbon_filter",))["sulfur_in_well"]
    assert told.against == ()


def test_a_smell_that_goes_when_the_glass_stands_is_a_gas(bench: Bench) -> None:
    alone = causes(bench, ("rotten_egg_cold",))["sulfur_in_well"]
    both = causes(bench, ("rotten_egg_cold", "rotten_egg_gone_after_standing"))["sulfur_in_well"]
    assert len(both.for_) - len(alone.for_) == 1


def test_iron_in_the_raw_water_speaks_against_the_pipe(bench: Bench) -> None:
    seen = ("rusty_inside_not_outside",)
    told = {
        (text, taken): len(
            causes(bench, seen, ("iron", text, "mg/L"), taken=taken)["corroding_iron_pipe"].against
        )
        for text in ("0.35", "0.25")
        for taken in ("raw", "flushed")
    }
    assert told == {("0.35", "raw"): 1, ("0.25", "raw"): 0,
                    ("0.35", "flushed"): 0, ("0.25", "flushed"): 0}  # fmt: skip


def test_one_solvent_that_was_not_found_clears_no_other(bench: Bench) -> None:
    rows = (("benzene", "9", "ug/L"), ("toluene", "<1", "ug/L"))
    told = causes(bench, ("fuel_or_solvent_smell",), *rows)["fuel_or_solvent"]
    assert told.against == ()


IRON, BACTERIA = "iron", ("iron_bacteria", "Present")
LISTED: list[tuple[tuple[str, ...], tuple[Row, ...], dict[str, Any], str, bool]] = [
    (("oily_film",), (), {}, "fuel_or_solvent", True),
    (("oily_film",), ((IRON, "0.25", "mg/L"),), {}, "fuel_or_solvent", True),
    (("oily_film",), ((IRON, "0.35", "mg/L"),), {}, "fuel_or_solvent", False),
    (("milky_spurting",), (), {}, "air", True),
    (("tea_coloured",), ((IRON, "0.35", "mg/L"),), {}, "rust_particles", True),
    (("tea_coloured",), ((IRON, "0.25", "mg/L"),), {}, "rust_particles", False),
    (("scale",), ((IRON, "0.35", "mg/L"),), {}, "rust_particles", False),
    (("rusty_at_once",), ((IRON, "0.25", "mg/L"),), {"piping": "galvanized"},
     "corroding_iron_pipe", True),
    (("rusty_at_once",), ((IRON, "0.35", "mg/L"),), {"piping": "galvanized"},
     "corroding_iron_pipe", False),
    (("rusty_at_once",), (), {"piping": "galvanized"}, "corroding_iron_pipe", False),
    (("rusty_at_once",), ((IRON, "0.25", "mg/L"),), {"piping": "copper"},
     "corroding_iron_pipe", False),
    (("scale",), ((IRON, "0.25", "mg/L"),), {"piping": "galvanized"},
     "corroding_iron_pipe", False),
    (("clear_then_rusty",), (BACTERIA,), {}, "iron_bacteria", True),
    (("clear_then_rusty",), (), {}, "iron_bacteria", False),
    (("scale",), (BACTERIA,), {}, "iron_bacteria", False),
    (("black_specks",), (("manganese", "<0.03", "mg/L"),), {}, "manganese", False),
    (("black_specks",), (("manganese", "0.019", "mg/L"),), {}, "manganese", False),
    (("black_specks",), (("manganese", "0.021", "mg/L"),), {}, "manganese", True),
    (("pinholes",), (), {}, "copper_corrosion", True),
    (("pinholes",), (), {"piping": "plastic"}, "copper_corrosion", False),
    (("pinholes",), (), {"piping": "galvanized"}, "copper_corrosion", False),
    (("blue_green_stains",), (), {"piping": "plastic"}, "copper_corrosion", True),
    (("blue_green_stains",), (("copper", "<0.1", "mg/L"),), {"piping": "plastic"},
     "copper_corrosion", False),
    (("blue_green_stains",), (("copper", "<0.1", "mg/L"),), {"piping": "copper"},
     "copper_corrosion", True),
    (("tea_coloured",), (), {}, "tannin", True),
    (("tea_coloured",), (("tannin", "<0.1", "mg/L"),), {}, "tannin", False),
]  # fmt: skip


@pytest.mark.parametrize(("seen", "rows", "house", "cause", "listed"), LISTED)
def test_a_cause_is_listed_only_where_something_points_to_it(
    bench: Bench,
    seen: tuple[str, ...],
    rows: tuple[Row, ...],
    house: dict[str, Any],
    cause: str,
    listed: bool,
) -> None:
    assert (cause in causes(bench, seen, *rows, **house)) is listed


@pytest.mark.parametrize(
    ("seen", "test"),
    [
        (("oily_film",), "cause.test_poke_film"),
        (("slime_in_tank",), "cause.test_tank_look"),
        (("oily_film", "slime_in_tank"), "cause.test_tank_look"),
    ],
)
def test_the_next_test_for_slime_fits_what_was_seen(
    bench: Bench, seen: tuple[str, ...], test: str
) -> None:
    assert causes(bench, seen)["iron_bacteria"].next_test.code == test


def test_few_first_draws_clear_copper_and_no_other_bottle_does(bench: Bench) -> None:
    seen, little = ("blue_green_stains",), ("copper", "0.1", "mg/L")
    told = {taken: causes(bench, seen, little, taken=taken)["copper_corrosion"].against
            for taken in ("first_draw", "flushed")}  # fmt: skip
    assert (len(told["first_draw"]), len(told["flushed"])) == (1, 0)
