"""What may cause what was seen at the tap, and what on the sheet speaks for or against it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from welltold.site import Equipment, Home, Site, Tap
from welltold.verdicts.causes import hints_by_cause

if TYPE_CHECKING:
    from .conftest import Bench


def causes(bench: Bench, *seen: str, rows: tuple[Any, ...] = (), **house: Any) -> dict[str, Any]:
    site = Site(home=Home(**house), tap=Tap(seen))
    return {one.cause: one for one in bench.view(*rows, site=site).causes or ()}


def test_a_cause_says_what_speaks_for_and_against_it(bench: Bench) -> None:
    # state well leaflet on iron: clear, then rusty as it stands
    iron = (bench.result("iron", "0.05", "mg/L"),)
    found = causes(bench, "clear_then_rusty", rows=iron)["dissolved_iron"]
    assert [m.text for m in found.for_] == [
        "The water is clear at first and turns rusty as it stands."
    ]
    assert "0.05" in found.against[0].text
    assert "stand overnight" in found.next_test.text
    assert found.name.text == "dissolved iron (clear-water iron)"


def test_what_nobody_saw_has_no_cause(bench: Bench) -> None:
    assert causes(bench, rows=(bench.result("iron", "5", "mg/L"),)) == {}


def test_hot_water_alone_points_to_the_heater(bench: Bench) -> None:
    # Water Supply 22(2), IWA, 2022: sulfate, little nitrate, a magnesium rod
    rows = (bench.result("sulfate", "60", "mg/L"), bench.result("nitrate", "<0.1", "mg/L", "N"))
    found = causes(bench, "rotten_egg_hot_only", rows=rows)
    assert set(found) == {"sulfur_in_heater"}
    assert len(found["sulfur_in_heater"].for_) == 3
    assert set(causes(bench, "rotten_egg_cold")) == {"sulfur_in_well"}


def test_manganese_that_was_not_found_makes_no_black_specks(bench: Bench) -> None:
    rows = (bench.result("manganese", "<0.005", "mg/L"),)
    assert set(causes(bench, "black_specks", rows=rows)) == {"worn_parts"}
    much = (bench.result("manganese", "0.25", "mg/L"),)
    assert set(causes(bench, "black_specks", rows=much)) == {"manganese", "worn_parts"}


HINTS = [
    # what is seen, cause, the sheet, the house, and whether that speaks for or against it
    ("oily_film", "fuel_or_solvent", ("benzene", "<0.5", "ug/L"), {}, "against"),
    ("fuel_or_solvent_smell", "fuel_or_solvent", ("benzene", "9", "ug/L"), {}, "for"),
    ("milky_spurting", "methane", ("methane", "12", "mg/L"), {}, "for"),
    ("milky_spurting", "methane", ("methane", "0.1", "mg/L"), {}, "against"),
    ("cloudy_clears_from_bottom", "air", ("turbidity", "12", "NTU"), {}, "against"),
    ("clear_then_rusty", "dissolved_iron", ("ph", "6.2", "SU"), {}, "for"),
    ("clear_then_rusty", "iron_bacteria", ("iron_bacteria", "Present"), {}, "for"),
    ("slime_in_tank", "iron_bacteria", ("iron_bacteria", "Present"), {}, "for"),
    ("slime_in_tank", "iron_bacteria", ("iron_bacteria", "Absent"), {}, "against"),
    ("slime_in_tank", "iron_bacteria", ("iron", "0.05", "mg/L"), {}, "against"),
    (
        "rusty_at_once",
        "corroding_iron_pipe",
        ("iron", "0.1", "mg/L"),
        {"piping": "galvanized"},
        "for",
    ),
    ("rusty_inside_not_outside", "corroding_iron_pipe", None, {"piping": "plastic"}, "against"),
    ("rusty_hot_only", "rusting_heater", ("iron", "2", "mg/L"), {}, "against"),
    ("black_specks", "manganese", ("manganese", "0.03", "mg/L"), {}, "against"),
    ("rotten_egg_cold", "sulfur_in_well", ("sulfide", "1", "mg/L", "S"), {}, "for"),
    ("rotten_egg_cold", "sulfur_in_well", ("sulfate_reducing_bacteria", "Present"), {}, "for"),
    ("rotten_egg_hot_only", "sulfur_in_heater", ("hydrogen_sulfide", "1", "mg/L"), {}, "against"),
    ("blue_green_stains", "copper_corrosion", ("ph", "8.1", "SU"), {}, "against"),
    ("blue_green_stains", "copper_corrosion", ("copper", "0.1", "mg/L"), {}, "against"),
    ("scale", "hardness_scale", ("hardness", "30", "mg/L"), {}, "against"),
    ("tea_coloured", "tannin", ("total_organic_carbon", "6", "mg/L"), {}, "for"),
    ("tea_coloured", "tannin", ("iron", "2", "mg/L"), {}, "against"),
    ("grit", "sediment", ("total_suspended_solids", "30", "mg/L"), {}, "for"),
    ("salty_taste", "salt", ("chloride", "20", "mg/L"), {}, "against"),
    ("metallic_taste", "metals_taste", ("zinc", "7", "mg/L"), {}, "for"),
    ("medicine_smell", "organic_smell", ("phenolics", "0.2", "mg/L"), {}, "for"),
]


@pytest.mark.parametrize(("seen", "cause", "row", "house", "side"), HINTS)
def test_what_speaks_for_or_against_a_cause(
    bench: Bench, seen: str, cause: str, row: Any, house: dict[str, Any], side: str
) -> None:
    rows = (bench.result(*row),) if row else ()
    site = Site(home=Home(**house), tap=Tap((seen,)))
    view = bench.view(*rows, site=site, sample={"taken": "first_draw"})
    found = next(one for one in view.causes or () if one.cause == cause)
    bare = bench.view(site=Site(tap=Tap((seen,))), sample={"taken": "first_draw"})
    before = next((one for one in bare.causes or () if one.cause == cause), None)
    if before is not None:
        assert len(found.for_) - len(before.for_) == (side == "for")
        assert len(found.against) - len(before.against) == (side == "against")
    else:  # the sheet is what lists it
        assert side == "for"


def test_the_raw_water_and_the_equipment_speak_too(bench: Bench) -> None:
    def of(cause: str, site: Site, taken: str | None, *rows: Any) -> Any:
        view = bench.view(*rows, site=site, sample={"taken": taken})
        return next(one for one in view.causes or () if one.cause == cause)

    inside = Site(tap=Tap(("rusty_inside_not_outside",)))
    iron = bench.result("iron", "3", "mg/L")
    assert of("corroding_iron_pipe", inside, "raw", iron).against
    assert not of("corroding_iron_pipe", inside, None, iron).against
    salty = Site(tap=Tap(("salty_taste",)), equipment=Equipment(after=("softener",)))
    assert len(of("salt", salty, None).for_) == 2
    egg = Site(tap=Tap(("rotten_egg_cold",)), equipment=Equipment(after=("carbon_filter",)))
    none = bench.result("hydrogen_sulfide", "<0.05", "mg/L")
    assert of("sulfur_in_well", egg, None, none).against


def test_every_observation_leads_to_a_cause(bench: Bench) -> None:
    from welltold.site_keys import OBSERVATIONS

    lonely = [seen for seen in OBSERVATIONS if not causes(bench, seen)]
    assert lonely == ["rotten_egg_gone_after_standing"]  # it only supports another


def test_every_cause_can_be_told() -> None:
    for hints in hints_by_cause().values():
        assert any(hint.kind == "sign" for hint in hints)
