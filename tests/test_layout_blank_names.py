"""Samples whose names hold the words of a blank, whatever stands around them."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_page, table

from welltold_parsers.layout.sample_kinds import control_kind

_LEFTS = (40.0, 200.0, 300.0)
_HEAD = "Parameter | Result | Units\n"


@pytest.mark.parametrize(
    "name",
    [
        "FIELD BLANK (PFAS)",
        "Field Blank - PFAS",
        "PFAS field blank",
        "Trip blank, cooler B",
        "Equipment blank pump 3",
    ],
)
def test_a_blank_beside_a_sample_gives_no_results(name: str) -> None:
    reading = read_page(
        (40.0, {40.0: "Lab Sample ID: HV26-1177-01", 300.0: "Client Sample ID: Kitchen cold"}),
        *table(_LEFTS, _HEAD + "PFOA | 4.9 | ng/L\nPFBS | 3.4 | ng/L", top=60.0),
        (160.0, {40.0: "Lab Sample ID: HV26-1177-04", 300.0: f"Client Sample ID: {name}"}),
        *table(_LEFTS, _HEAD + "PFOA | 0.62 | ng/L\nPFBS | ND | ng/L", top=180.0),
    )
    assert [brief(r) for r in reading.results] == [
        ("pfoa", "4.9", "ng/L", None),
        ("pfbs", "3.4", "ng/L", None),
    ]


@pytest.mark.parametrize("name", ["Kitchen cold", "12 Point Blank Road", "Well by the field"])
def test_a_place_is_no_blank(name: str) -> None:
    assert control_kind(name) is None
