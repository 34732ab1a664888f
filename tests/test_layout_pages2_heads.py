"""Heads set in the middle of two lines, samples named above the head, names before their number."""

from __future__ import annotations

import pytest
from layout_sheets import number, read_page, table

from welltold_parsers.layout.blocks import names_in

_WELLS = (40.0, 150.0, 210.0, 270.0, 350.0)


def test_a_head_set_at_half_height_belongs_to_its_table() -> None:
    reading = read_page(
        (60.0, {150.0: "Raw", 210.0: "RO tap"}),
        (66.0, {40.0: "Analyte", 270.0: "Units"}),
        (72.0, {150.0: "0925-A", 210.0: "0925-C"}),
        *table(_WELLS, "Iron | 1.20 | 0.04 | mg/L\nManganese | 0.31 | 0.02 | mg/L", top=86.0),
    )
    told = {(s.id, s.point): [str(r.value) for r in s.results] for s in reading.samples}
    assert told == {("0925-A", "Raw"): ["1.20", "0.31"], ("0925-C", "RO tap"): ["0.04", "0.02"]}


def test_a_name_on_two_lines_beside_its_value_stays_one_row() -> None:
    reading = read_page(
        *table((40.0, 150.0, 210.0), "Analyte | Result | Units\nIron | 0.20 | mg/L", top=40.0),
        (80.0, {40.0: "Alkalinity, Total"}),
        (84.5, {150.0: "120", 210.0: "mg/L"}),
        (89.0, {40.0: "as CaCO3"}),
    )
    assert [(r.analyte, str(r.value)) for r in reading.results] == [
        ("iron", "0.20"),
        ("alkalinity", "120"),
    ]


def test_the_wells_above_a_head_are_its_columns_though_a_standard_stands_beside_them() -> None:
    reading = read_page(
        *table(
            _WELLS,
            "Sample Location | | Standard | MW-1 | MW-2R\nLab Sample No. | | | K771-1 | K771-2\n"
            "Date | | | 10/17/2023 | 10/18/2023\nAnalyte | Units\n"
            "Chloride | mg/L | 250 | 48.3 | 6.9\nSulfate | mg/L | 250 | 82.4 | 143\n"
            "Arsenic | ug/L | 10 | 1.0 U | 7.1",
            top=60.0,
        )
    )
    assert [(s.id, s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("K771-1", "MW-1", "2023-10-17", 3),
        ("K771-2", "MW-2R", "2023-10-18", 3),
    ]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        (
            "377 Harrow Ave - 5th L 2408417-02 (Drinking Water)",
            {"client_id": "377 Harrow Ave - 5th L", "lab_id": "2408417-02"},
        ),
        ("Kitchen tap 24K0377-01", {"client_id": "Kitchen tap", "lab_id": "24K0377-01"}),
        ("WRA-660 Well A", {"sample_id": "WRA-660", "point": "Well A"}),
    ],
)
def test_the_laboratorys_number_may_stand_behind_the_name(text: str, names: dict[str, str]) -> None:
    found = dict(names_in([text]))
    assert {k: v for k, v in found.items() if k != "matrix"} == names


@pytest.mark.parametrize("lower", ["Det. Limit", "Detection Limit", "MDL"])
def test_not_detected_is_below_the_limit_of_quantitation(lower: str) -> None:
    reading = read_page(
        *table(
            (40.0, 150.0, 260.0, 360.0, 430.0),
            f"Analyte | Limit of Quant. | {lower} | Units | Result\n"
            "Antimony | 1.0 | 0.20 | ug/L | ND\nArsenic | 1.0 | 0.24 | ug/L | 11.6",
        )
    )
    antimony, arsenic = reading.results
    assert (antimony.operator, str(antimony.value)) == ("<", "1.0")
    assert str(arsenic.detection_limit) == "0.24"


def test_a_detection_limit_alone_bounds_what_was_not_detected() -> None:
    reading = read_page(
        *table(
            (40.0, 150.0, 260.0, 360.0),
            "Analyte | Result | Detection Limit | Units\nLead | ND | 0.5 | ug/L\n"
            "Iron | 30 | 10 | ug/L",
        )
    )
    assert (reading.results[0].operator, str(reading.results[0].value)) == ("<", "0.5")


def test_a_row_with_a_name_at_its_warmth_and_a_unit_in_words_is_no_head() -> None:
    # counted by hand: four tests, each with its amount in the second column
    rows = """
Determination | Amount | Analyzed | Units of Measure | Reporting Limit | Drinking Water Limit
General Chemistry
pH at 25 °C | 7.0 | 2026-02-14 | std units |  | 6.5-8.5
Turbidity at 20 °C | 438 | 2026-02-14 | NTU | 5 |
Chloride | 284 | 2026-02-14 | mg/L | 10 | 500
Iron | 13.9 | 2026-02-14 | mg/L | 0.1 | 5
"""
    reading = read_page(*table((40, 180, 240, 310, 410, 500), rows))
    assert [(r.analyte, r.text) for r in reading.results] == [
        ("ph", "7.0"),
        ("turbidity", "438"),
        ("chloride", "284"),
        ("iron", "13.9"),
    ]
    assert [r.reporting_limit for r in reading.results][1:] == [5, 10, number("0.1")]
