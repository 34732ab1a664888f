"""Tables of milk, soil or paint beside the water's: left out, counted and told; by hand."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv, read_page, table

from welltold.reading import Reading

_LEFTS = (50.0, 180.0, 300.0, 420.0)
_WATER = "Sample | Nitrate-N mg/L | Lead ug/L | pH\nWell A | 4.2 | 2 | 7.1\nWell B | 3.1 | <1 | 7.3"
_SOIL = "Sample | Nitrate-N {0} | Lead {0} | pH\nGarden | 12 | 55 | 6.5\nField | 30 | 18 | 6.8"


def _left_out(reading: Reading) -> list[dict[str, str]]:
    return [dict(m.args) for m in reading.warnings if m.code == "read.other_matrix_left_out"]


@pytest.mark.parametrize(
    ("title", "unit"),
    [("Soil samples", "mg/kg"), ("Other tests", "mg/kg"), ("Sediment results", "ppm dry")],
)
def test_soil_below_water(title: str, unit: str) -> None:
    reading = read_page(
        (40.0, {50.0: "Drinking water"}),
        *table(_LEFTS, _WATER, top=60.0),
        (130.0, {50.0: title}),
        *table(_LEFTS, _SOIL.format(unit), top=150.0),
    )
    assert [s.point or s.id for s in reading.samples] == ["Well A", "Well B"]
    assert len(reading.results) == 6
    assert [m["count"] for m in _left_out(reading)] == ["2"]


def test_water_below_soil_keeps_its_head() -> None:
    reading = read_page(
        (40.0, {50.0: "Soil samples"}),
        *table(_LEFTS, _SOIL.format("mg/kg"), top=60.0),
        (130.0, {50.0: "Sample ID: W-7"}),
        *table(
            _LEFTS,
            "Test | Result | Units | Method\nNitrate-N | 4.2 | mg/L | 300.0\n"
            "Lead | 2 | ug/L | 200.8",
            top=150.0,
        ),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("nitrate", "4.2", "mg/L"),
        ("lead", "2", "ug/L"),
    ]
    assert [s.id for s in reading.samples] == ["W-7"]


def test_raw_milk_beside_water() -> None:
    reading = read_csv(
        "Water samples\nSample,Coliform MPN/100 mL,E. coli MPN/100 mL\nBarn,<1.1,<1.1\n"
        "Parlor,5.2,<1.1\nRaw milk (not water)\nPatron,SPC /mL,Coliform /mL,Butterfat %\n"
        "0117,4000,12,3.94\n0123,9000,40,4.02"
    )
    assert [r.text for r in reading.results] == ["<1.1", "<1.1", "5.2", "<1.1"]
    assert [m["count"] for m in _left_out(reading)] == ["2"]


def test_a_row_by_weight_among_results_of_water() -> None:
    reading = read_csv(
        "Test,Result,Units\nLead,2,ug/L\nLead in paint chip,5500,mg/kg\nCopper,0.2,mg/L"
    )
    assert [brief(r)[1] for r in reading.results] == ["2", "0.2"]
    assert len(_left_out(reading)) == 1


@pytest.mark.parametrize("name", ["Soil and Water Testing Laboratory", "Milk River Well 3"])
def test_a_laboratory_of_soil_tests_water_too(name: str) -> None:
    reading = read_page((40.0, {50.0: name}), *table(_LEFTS, _WATER, top=60.0))
    assert len(reading.results) == 6
    assert _left_out(reading) == []


def test_a_sheet_by_weight_alone_is_read_and_doubted() -> None:
    reading = read_csv("Test,Result,Units\nLead,2,mg/kg\nCopper,0.2,mg/kg\nZinc,0.3,mg/kg")
    assert [r.text for r in reading.results] == ["2", "0.2", "0.3"]
    assert {r.use for r in reading.results} == {"look"}
