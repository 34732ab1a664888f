"""Heads of data bases, written as one word, and heads of limits that speak of a value."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv, read_page, table

_LONG = (
    "{analyte},{result},{unit},{sign},{station},{day}\n"
    "Arsenic,0.004,mg/L,,Well 4,2026-03-02 10:15:00\n"
    "Ammonia N,0.1,mg/L,<,Well 4,2026-03-02 10:15:00\n"
    "Total P,0.05,mg/L,,Well 4,2026-03-02 10:15:00\n"
    "Arsenic,0.011,mg/L,,Well 9,2026-04-01 09:00:00\n"
)


@pytest.mark.parametrize(
    ("analyte", "result", "unit", "sign", "station", "day"),
    [
        (
            "CHARACTERISTICNAME",
            "RESULTMEASURE",
            "RESULTMEASUREUNIT",
            "RESULTQUALIFIER",
            "STATIONNAME",
            "SAMPLEDATETIME",
        ),
        ("parametername", "resultvalue", "resultunit", "qualifier", "stationname", "sampledate"),
        ("ANALYTENAME", "FINALRESULT", "UNITOFMEASURE", "QUAL", "SAMPLEPOINT", "COLLECTIONDATE"),
        ("TestName", "TESTRESULT", "UnitCode", "DATAQUALIFIER", "StationName", "DATECOLLECTED"),
    ],
)
def test_heads_of_several_words_written_as_one_are_known(
    analyte: str, result: str, unit: str, sign: str, station: str, day: str
) -> None:
    told = {"analyte": analyte, "result": result, "unit": unit}
    reading = read_csv(_LONG.format(**told, sign=sign, station=station, day=day))
    assert [s.point for s in reading.samples] == ["Well 4", "Well 9"]
    assert [brief(r) for r in reading.samples[0].results] == [
        ("arsenic", "0.004", "mg/L", None),
        ("ammonia", "<0.1", "mg/L", "N"),
        ("phosphorus", "0.05", "mg/L", "P"),
    ]
    assert [brief(r) for r in reading.samples[1].results] == [("arsenic", "0.011", "mg/L", None)]


@pytest.mark.parametrize(
    "limit",
    [
        "Max. Acc. Value",
        "Desired Value",
        "Highest Acceptable Level",
        "Permissible Conc.",
        "Guide Value",
    ],
)
def test_a_value_that_is_wanted_is_a_limit_and_numbered_rows_keep_their_samples(limit: str) -> None:
    rows = table(
        (40.0, 70.0, 150.0, 260.0, 380.0, 440.0, 500.0),
        f"""
No|Category|Parameters|{limit}|S1|S2|S3
1|Physical|TDS (mg/L)|500|31.2|30.3|53.3
2|Physical|Turbidity (NTU)|5|2.84|1.6|1.5
3|Metals|Lead (mg/L)|0.01|n/d|n/d|0.002
4|Metals|Iron (mg/L)|0.3|0.237|0.179|0.038
5|Salts|Fluoride (mg/L)|1.5|0.29|0.28|0.3
""",
    )
    reading = read_page(*rows)
    assert [s.id for s in reading.samples] == ["S1", "S2", "S3"]
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["31.2", "2.84", "<", "0.237", "0.29"],
        ["30.3", "1.6", "<", "0.179", "0.28"],
        ["53.3", "1.5", "0.002", "0.038", "0.3"],
    ]
    assert [r.printed_limit for r in reading.samples[0].results] == [
        "500",
        "5",
        "0.01",
        "0.3",
        "1.5",
    ]


@pytest.mark.parametrize(
    "line",
    ["Units = parts per trillion, ppt", "All units = ng/L", "Results = ng/L", "Units: ng/L (ppt)"],
)
def test_a_unit_told_once_for_all_below_a_list_of_names(line: str) -> None:
    rows = table(
        (50.0, 300.0, 420.0),
        f"""
PFAS Name|North Lake|Steep Well
Perfluorooctanoic acid (PFOA)|2.5|ND
Perfluorobutanoic acid|ND|3.1
1H, 1H, 2H, 2H-perfluorooctane sulfonate|ND|4.4
{line}
""",
    )
    reading = read_page(*rows)
    assert [s.point for s in reading.samples] == ["North Lake", "Steep Well"]
    first, second = (list(map(brief, s.results)) for s in reading.samples)
    assert [(a, v) for a, v, *_ in first] == [("pfoa", "2.5"), ("pfba", "<"), ("fts_6_2", "<")]
    assert [(a, v) for a, v, *_ in second] == [("pfoa", "<"), ("pfba", "3.1"), ("fts_6_2", "4.4")]
    assert not any(r.review for s in reading.samples for r in s.results if r.value is not None)
    assert {r.normalized.unit for s in reading.samples for r in s.results if r.normalized} == {
        "ng/L"
    }
