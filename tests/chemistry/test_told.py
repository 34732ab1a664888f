"""The indices of a sample: values, reasons, refusals, and the words beside them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from checks.made import row

from welltold.checks.sheet import Sheet
from welltold.chemistry.facts import facts_of
from welltold.chemistry.told import class_of, indices_of
from welltold.interpretation import Index
from welltold.reading import Result, Sample
from welltold.site import Site, Well

# C21 of the vectors, worked out with PHREEQC 3: SI 0.20, CCPP 17.2, LSI 0.0, RSI 7.41, AI 12.2
HARD = {
    "ph": "7.4",
    "alkalinity": "280",
    "calcium": "90",
    "magnesium": "28",
    "total_dissolved_solids": "400",
    "temperature": "12",
}


def told(*rows: Result, site: Site | None = None) -> dict[str, Index]:
    made = indices_of(Sample(results=rows), site or Site())
    return {index.index: index for index in made}


def of(numbers: dict[str, str], **more: str) -> dict[str, Index]:
    return told(*(row(slug, text) for slug, text in (numbers | more).items() if text))


def codes(index: Index) -> list[str]:
    return [message.code.removeprefix("check.index_") for message in index.why]


def test_values_of_a_hard_water() -> None:
    found = of(HARD)
    values = {name: float(one.value) for name, one in found.items() if one.value is not None}
    assert values["calcite_saturation"] == 0.2
    assert values["calcium_carbonate_precipitation_potential"] == pytest.approx(17.2, abs=2)
    assert values["langelier_index"] == 0.0
    assert values["ryznar_index"] == 7.4
    assert values["aggressive_index"] == 12.2
    # C21 to C24: more than at the tap, and less than with the pH left as it is
    assert 0.2 < values["calcite_saturation_heater"] < 0.81
    assert values["carbon_dioxide"] == pytest.approx(24, abs=1)
    assert all(one.citation and one.unit for one in found.values())


def test_words_by_value() -> None:
    found = of(HARD)
    assert codes(found["calcite_saturation"]) == ["balanced", "rough", "lab_ph", "explains"]
    assert codes(found["calcite_saturation_heater"])[0] == "deposits"
    acid = of(HARD, ph="6.0", calcium="6", alkalinity="20", total_dissolved_solids="45")
    assert codes(acid["calcite_saturation"])[0] == "dissolves"
    # vector C20 of PHREEQC says -3.35
    assert float(acid["calcite_saturation"].value or 0) == pytest.approx(-3.35, abs=0.06)


def test_an_unknown_temperature_is_said() -> None:
    assert "warmth" in codes(of(HARD, temperature="")["calcite_saturation"])
    assert "warmth" not in codes(of(HARD)["calcite_saturation"])
    assert "warmth" not in codes(of(HARD, temperature="")["aggressive_index"])
    well = Site(well=Well(water_temperature_c=Decimal(10)))
    rows = [row(slug, text) for slug, text in HARD.items() if slug != "temperature"]
    assert "warmth" not in codes(told(*rows, site=well)["calcite_saturation"])


def test_the_temperature_of_a_cooler_is_not_the_wells() -> None:
    rows = [row(slug, text) for slug, text in HARD.items() if slug != "temperature"]
    received = replace(row("temperature", "4"), label="Temperature upon receipt")
    assert "warmth" in codes(told(*rows, received)["calcite_saturation"])


@pytest.mark.parametrize(
    ("missing", "name"),
    [
        ("calcium", "calcium"),
        ("alkalinity", "alkalinity"),
        ("ph", "pH"),
        ("total_dissolved_solids", "total dissolved solids"),
    ],
)
def test_what_is_missing_is_named(missing: str, name: str) -> None:
    one = of(HARD, **{missing: ""})["calcite_saturation"]
    assert one.value is None
    assert [m.text for m in one.why] == [f"Not possible: no {name} on the sheet."]


def test_conductance_stands_in_for_the_solids() -> None:
    found = of(HARD, total_dissolved_solids="", specific_conductance="640")
    assert found["calcite_saturation"].value == Decimal("0.2")


def test_outside_of_the_range_is_refused() -> None:
    found = of(HARD, ph="9.8")
    assert found["calcite_saturation"].value is None
    assert codes(found["calcite_saturation"]) == ["refused"]
    assert of(HARD, ph="8.9")["langelier_index"].value is None
    assert of(HARD, ph="8.9")["calcite_saturation"].value is not None
    assert of(HARD, ph="15")["calcite_saturation"].value is None


@pytest.mark.parametrize(
    ("chloride", "sulfate", "alkalinity", "value", "code", "end"),
    [
        # USGS SIR 2016-5092: 0.2, 0.5, and alkalinity 50 mg/L
        ("2", "150", "100", "0.01", "galvanic_little", None),
        ("30", "100", "30", "0.30", "galvanic_some", None),
        ("100", "100", "30", "1.00", "galvanic_much", None),
        ("100", "100", "50", "1.00", "galvanic_some", None),
        ("10", "<5", "30", "2.00", "galvanic_much", "at_least"),
        ("<1", "50", "30", "0.02", "galvanic_little", "at_most"),
        ("<1", "<5", "30", None, "refused", None),
    ],
)
def test_chloride_over_sulfate(
    chloride: str, sulfate: str, alkalinity: str, value: str | None, code: str, end: str | None
) -> None:
    one = of({"chloride": chloride, "sulfate": sulfate, "alkalinity": alkalinity})[
        "chloride_sulfate_mass_ratio"
    ]
    assert one.value == (None if value is None else Decimal(value))
    assert codes(one)[0] == code
    assert end is None or end in codes(one)


def test_a_ph_read_at_the_well_comes_first() -> None:
    rows = [row(slug, text) for slug, text in HARD.items() if slug != "ph"]
    both = told(*rows, row("ph", "8.2"), row("ph", "7.4", method="field meter"))
    assert both["calcite_saturation"].value == Decimal("0.2")
    assert "lab_ph" not in codes(both["calcite_saturation"])


def test_only_for_sheets_that_ask_for_it() -> None:
    assert told(row("e_coli", "Absent")) == {}
    assert told(row("ph", "7.4"), row("total_dissolved_solids", "300")) == {}
    assert set(told(row("chloride", "10"))) == {"larson_index", "chloride_sulfate_mass_ratio"}


def test_with_every_ion_the_figure_is_not_rough() -> None:
    whole = of(HARD, sodium="12", chloride="15", sulfate="30")
    assert "rough" not in codes(whole["calcite_saturation"])


@pytest.mark.parametrize(
    ("index", "edges", "words"),
    [
        ("calcite_saturation", ("-0.3", "0.3"), ("dissolves", "balanced", "deposits")),
        ("calcite_saturation_heater", ("-0.3", "0.3"), ("dissolves", "balanced", "deposits")),
        ("langelier_index", ("-0.3", "0.3"), ("dissolves", "balanced", "deposits")),
        (
            # Ryznar 1944
            "ryznar_index",
            ("6.2", "6.8"),
            ("ryznar_deposits", "ryznar_balanced", "ryznar_dissolves"),
        ),
        (
            "calcium_carbonate_precipitation_potential",
            ("-5", "4"),
            ("dissolves", "balanced", "deposits"),
        ),
        ("aggressive_index", ("10", "12"), ("pipes_hard", "pipes_some", "pipes_little")),
        ("larson_index", ("0.8", "1.2"), ("iron_little", "iron_some", "iron_much")),
        (
            # USGS SIR 2016-5092
            "chloride_sulfate_mass_ratio",
            ("0.2", "0.5"),
            ("galvanic_little", "galvanic_some", "galvanic_much"),
        ),
    ],
)
def test_edges_of_the_classes(index: str, edges: tuple[str, str], words: tuple[str, ...]) -> None:
    facts = facts_of(Sheet(Sample(results=(row("alkalinity", "20"),)), (), Site()))
    step = Decimal("0.01")
    low, high = map(Decimal, edges)
    values = (low - step, low, high - step, high)
    found = [class_of(index, value, facts).code for value in values]
    first, second, third = (f"check.index_{word}" for word in words)
    assert found == [first, second, second, third]
