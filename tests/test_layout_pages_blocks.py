"""Reports with a block for each sample: their heads, the parts of a report, quality control."""

from __future__ import annotations

import pytest
from layout_sheets import brief, page, pdf, read_page, table

from welltold.reading import Reading
from welltold_parsers.layout import read_document

_COLUMNS = (40.0, 200.0, 260.0, 320.0, 380.0, 440.0)
_HEAD = "Analyte | Result | Qual | RL | MDL | Unit"
_METALS = f"""
{_HEAD}
Arsenic | 3.2 | | 1.0 | 0.30 | ug/L
Lead | ND | | 0.50 | 0.10 | ug/L
Manganese | 41 | J | 2.0 | 0.50 | ug/L
"""


def _samples(reading: Reading) -> dict[str | None, int]:
    return {s.id: len(s.results) for s in reading.samples}


@pytest.mark.parametrize(
    ("head", "number", "point"),
    [
        (
            {40.0: "Pump house (24T0090-01) Water", 300.0: "Sampled: 11/05/24 07:45"},
            "24T0090-01",
            "Pump house",
        ),
        (
            {40.0: "TRL-4410", 120.0: "Domestic well A", 300.0: "Collected 11/05/2024 @ 07:45"},
            "TRL-4410",
            "Domestic well A",
        ),
        (
            {40.0: "TRL-4410 (continued)", 300.0: "Date Collected: 11/05/24 07:45"},
            "TRL-4410",
            None,
        ),
        ({40.0: "Reed cottage", 300.0: "Date Collected: 11/05/24 07:45"}, "Reed cottage", None),
    ],
)
def test_a_block_is_headed_by_a_name_before_its_day(
    head: dict[float, str], number: str, point: str | None
) -> None:
    reading = read_page((60.0, head), *table(_COLUMNS, _METALS, top=80.0))
    (sample,) = reading.samples
    assert (sample.id, sample.collected) == (number, "2024-11-05T07:45")
    assert point is None or sample.point == point
    assert len(sample.results) == 3


def test_a_laboratory_s_name_before_a_day_is_no_sample() -> None:
    reading = read_page(
        (40.0, {40.0: "Quarry Hill Laboratory", 300.0: "Collected: 11/05/24"}),
        (60.0, {40.0: "Lab ID: 88-1"}),
        *table(_COLUMNS, _METALS, top=80.0),
    )
    assert [(s.id, s.point) for s in reading.samples] == [("88-1", None)]


def test_two_blocks_on_one_page_are_two_samples() -> None:
    reading = read_page(
        (40.0, {40.0: "Well one (T-77-01) Water", 300.0: "Sampled: 11/05/24 07:45"}),
        *table(_COLUMNS, _METALS, top=60.0),
        (300.0, {40.0: "Well two (T-77-02) Water", 300.0: "Sampled: 11/05/24 08:05"}),
        *table(_COLUMNS, _METALS, top=320.0),
    )
    assert _samples(reading) == {"T-77-01": 3, "T-77-02": 3}


def test_the_block_of_a_trip_blank_is_left_out() -> None:
    reading = read_page(
        (40.0, {40.0: "Well one (T-77-01) Water", 300.0: "Sampled: 11/05/24 07:45"}),
        *table(_COLUMNS, _METALS, top=60.0),
        (300.0, {40.0: "Trip Blank (T-77-02) Water", 300.0: "Sampled: 11/05/24 00:00"}),
        *table(_COLUMNS, _METALS, top=320.0),
    )
    assert _samples(reading) == {"T-77-01": 3}
    assert any("Trip Blank" in w.text for w in reading.warnings)


def test_a_title_beside_a_job_number_opens_and_closes_parts_of_a_long_report() -> None:
    def top(title: str) -> tuple[float, dict[float, str]]:
        return 40.0, {40.0: title, 450.0: "Job ID: 55-1207-1"}

    def block(lab: str, client: str) -> tuple[float, dict[float, str]]:
        return 60.0, {40.0: f"Client Sample ID: {client}", 330.0: f"Lab Sample ID: {lab}"}

    day = (72.0, {40.0: "Date Collected: 09/17/24 08:55", 450.0: "Matrix: Water"})
    results = table(_COLUMNS, _METALS, top=100.0)
    spike = table(
        (40.0, 160.0, 220.0, 280.0, 340.0, 400.0),
        "Analyte | Spike Added | LCS Result | Unit | %Rec | Limits\n"
        "Lead | 100 | 98.2 | ug/L | 98 | 85 - 115",
        top=300.0,
    )
    reading = read_document(
        pdf(
            page(
                top("Definitions/Glossary"),
                (60.0, {40.0: "Qualifiers"}),
                (80.0, {40.0: "J", 90.0: "Below the RL, estimated"}),
                number=1,
            ),
            page(top("Client Sample Results"), block("55-1207-1", "Orchard"), day, *results),
            page(
                top("QC Sample Results"),
                block("MB 55-4100/1-A", "Method Blank"),
                *results,
                *spike,
                number=3,
            ),
            page(top("Client Sample Results"), block("55-1207-2", "Barn"), day, *results),
        )
    )
    assert _samples(reading) == {"55-1207-1": 3, "55-1207-2": 3}
    assert [brief(r)[:2] for r in reading.samples[1].results] == [
        ("arsenic", "3.2"),
        ("lead", "<0.50"),
        ("manganese", "41"),
    ]


def test_the_temperature_of_the_cooler_is_no_result() -> None:
    reading = read_page(
        (40.0, {40.0: "Lab ID: 88-1"}),
        (60.0, {40.0: "The temperature of the cooler at receipt was 2.8 °C."}),
        *table(_COLUMNS, _METALS, top=80.0),
    )
    assert [r.analyte for r in reading.results] == ["arsenic", "lead", "manganese"]


def test_the_two_names_of_a_method_blank_may_stand_on_two_lines() -> None:
    def block(name: str, code: str, top: float) -> list[tuple[float, dict[float, str]]]:
        return [
            (top, {40.0: f"Sample Name: {name}", 330.0: "Units: ug/L"}),
            (top + 12.0, {40.0: f"Lab Code: {code}", 330.0: "Basis: NA"}),
            *table(_COLUMNS, _METALS, top=top + 30.0),
        ]

    reading = read_page(
        *block("Harmon tap", "K190-001", 40.0),
        *block("Method Blank", "KQ190-01", 200.0),
        *block("Barn tap", "K190-002", 360.0),
    )
    assert _samples(reading) == {"K190-001": 3, "K190-002": 3}


def test_a_heading_that_names_a_known_sample_begins_its_block() -> None:
    reading = read_page(
        (40.0, {40.0: "Sample #: 19-4410", 250.0: "Collected: 9/17/2019 2:15 PM"}),
        (55.0, {40.0: "Sample #: 19-4411", 250.0: "Collected: 9/17/2019 2:30 PM"}),
        (80.0, {40.0: "19-4410", 100.0: "Kitchen sink"}),
        (95.0, {60.0: "Nitrate (as NO3)", 200.0: "21", 240.0: "mg/L", 300.0: "(MCL 45)"}),
        (110.0, {60.0: "Sulfate", 200.0: "12", 240.0: "mg/L"}),
        (130.0, {40.0: "19-4411", 100.0: "Barn hydrant"}),
        (145.0, {60.0: "Nitrate (as NO3)", 200.0: "88", 240.0: "mg/L", 300.0: "(MCL 45)"}),
        (160.0, {60.0: "Sulfate", 200.0: "19", 240.0: "mg/L"}),
    )
    told = [(s.id, s.point, s.collected, [brief(r)[1] for r in s.results]) for s in reading.samples]
    assert told == [
        ("19-4410", "Kitchen sink", "2019-09-17T14:15", ["21", "12"]),
        ("19-4411", "Barn hydrant", "2019-09-17T14:30", ["88", "19"]),
    ]


def test_surrogates_are_no_results_and_a_rule_s_limit_is_never_the_lab_s() -> None:
    reading = read_page(
        (40.0, {40.0: "Lab Sample ID: JC91144-1"}),
        *table(
            (40.0, 110.0, 260.0, 310.0, 360.0, 410.0, 460.0),
            "CAS No. | Compound | Result | MCL | RL | MDL | Units\n"
            "71-43-2 | Benzene | ND | 1.0 | 0.50 | 0.12 | ug/l\n"
            "108-90-7 | Chlorobenzene | ND | 50 | 0.50 | 0.11 | ug/l\n"
            "1634-04-4 | Methyl Tert Butyl Ether | 0.41 | 70 | 0.50 | 0.15 | ug/l\n"
            "79-01-6 | Trichloroethylene | 1.3 | 1.0 | 0.50 | 0.13 | ug/l",
            top=60.0,
        ),
        *table(
            (40.0, 110.0, 280.0, 340.0, 420.0),
            "CAS No. | Surrogate Recoveries | Run# 1 | Run# 2 | Limits\n"
            "2199-69-1 | 1,2-Dichlorobenzene-d4 | 98% | | 78-114%\n"
            "460-00-4 | 4-Bromofluorobenzene | 94% | | 77-115%",
            top=150.0,
        ),
    )
    assert [(*brief(r)[:2], str(r.reporting_limit), r.printed_limit) for r in reading.results] == [
        ("benzene", "<0.50", "0.50", "1.0"),
        ("chlorobenzene", "<0.50", "0.50", "50"),
        ("mtbe", "0.41", "0.50", "70"),
        ("trichloroethylene", "1.3", "0.50", "1.0"),
    ]


def test_a_block_goes_on_over_a_page_under_its_number_and_the_word_continued() -> None:
    rows = "Sulfate | 31.0 | | 1.0 | 0.2 | mg/L\nIron | <0.050 | | 0.050 | 0.01 | mg/L"
    reading = read_document(
        pdf(
            page(
                (40.0, {40.0: "Sample: BH-8841-1", 250.0: "Collected: 05/22/2021 08:10"}),
                *table(_COLUMNS, _METALS, top=60.0),
            ),
            page(
                (40.0, {40.0: "BH-8841-1 (continued)"}),
                *table(_COLUMNS, rows, top=60.0),
                number=2,
            ),
        )
    )
    assert [(s.id, s.point, len(s.results)) for s in reading.samples] == [("BH-8841-1", None, 5)]


def test_keys_with_and_without_a_colon_stand_on_one_line() -> None:
    reading = read_page(
        (40.0, {40.0: "Elm County Health Department", 330.0: "WELL WATER TEST"}),
        (
            55.0,
            {40.0: "Customer: Dray", 200.0: "Sample No. 55120", 350.0: "Date sampled 10/22/2023"},
        ),
        *table(_COLUMNS, _METALS, top=80.0),
    )
    assert [(s.id, s.collected, len(s.results)) for s in reading.samples] == [
        ("55120", "2023-10-22", 3)
    ]
