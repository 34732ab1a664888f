"""Which sample a row of a data file belongs to: numbers, places, days, depths, owners' codes."""

from __future__ import annotations

import pytest
from tests.layout_sheets import brief, read_csv

from welltold.reading import Reading


def _samples(reading: Reading) -> list[tuple[str | None, str | None, str | None]]:
    return [(s.id, s.point, s.collected) for s in reading.samples]


@pytest.mark.parametrize(
    "head",
    [
        "Date",
        "date",
        "EventDate",
        "field_date",
        "timestamp",
        "Sampling Date",
        "cdate",
        "collected_on",
    ],
)
def test_two_days_of_one_site_are_two_samples(head: str) -> None:
    reading = read_csv(f"Site,{head},Nitrate (mg/L),pH\nA,2024-05-01,1.2,7.1\nA,2024-06-01,1.2,7.2")
    assert _samples(reading) == [(None, "A", "2024-05-01"), (None, "A", "2024-06-01")]
    assert [r.use for r in reading.results] == ["as_is"] * 4


def test_a_plain_date_beside_the_day_of_sampling_is_not_the_day_of_sampling() -> None:
    reading = read_csv(
        "Site,Date,Date Collected,Iron (mg/L)\n"
        "A,2024-05-09,2024-05-01,1.2\nA,2024-06-09,2024-06-01,1"
    )
    assert [s.collected for s in reading.samples] == ["2024-05-01", "2024-06-01"]


def test_days_without_a_place_are_samples_in_a_long_file_too() -> None:
    reading = read_csv(
        "Sample Date,Analyte,Result,Units\n2024-05-01,Iron,0.2,mg/L\n2024-06-01,Iron,0.2,mg/L\n"
        "2024-05-01,Zinc,0.1,mg/L\n2024-06-01,Zinc,0.1,mg/L"
    )
    assert [(s.collected, len(s.results)) for s in reading.samples] == [
        ("2024-05-01", 2),
        ("2024-06-01", 2),
    ]


def test_two_times_of_one_day_are_two_samples() -> None:
    reading = read_csv(
        "timestamp,Temperature_out (C),pH_raw\n2025-09-01T12:00:00+02:00,6.9,6.4\n"
        "2025-09-01T12:01:00+02:00,6.9,6.4"
    )
    assert [s.collected for s in reading.samples] == ["2025-09-01T12:00", "2025-09-01T12:01"]


def test_two_depths_are_two_samples() -> None:
    reading = read_csv(
        "Site,Date,Depth,Fe (mg/L),Al (mg/L)\nA,2024-05-01,2,0.1,1\nA,2024-05-01,7,0.2,2"
    )
    assert [[r.text for r in s.results] for s in reading.samples] == [["0.1", "1"], ["0.2", "2"]]


@pytest.mark.parametrize("counter", ["_id", "id", "row id", "no"])
def test_a_counter_of_rows_does_not_beat_the_sample_number(counter: str) -> None:
    reading = read_csv(
        f"{counter},Sample Number,Sample Date,Lead (ppm)\n1,1536645,2024-01-01,0.0078\n"
        "2,1535456,2024-01-02,<0.00005"
    )
    assert [s.id for s in reading.samples] == ["1536645", "1535456"]


def test_an_owners_code_is_no_sample() -> None:
    reading = read_csv(
        "origin_id,station_id,sample date,characteristic name,result value,units\n"
        "TC_01,M4,2014-09-30,pH,6.9,None\nTC_01,M5,2014-09-30,pH,6.7,None"
    )
    assert _samples(reading) == [(None, "M4", "2014-09-30"), (None, "M5", "2014-09-30")]


def test_a_column_with_decimals_is_nobodys_number() -> None:
    reading = read_csv("ph,Hardness,Foo,Sulfate\n7.11,204.9,20791.3,368.5\n3.7,129.4,18630.1,334.6")
    assert [(s.id, s.point) for s in reading.samples] == [(None, None), (None, None)]
    assert [len(s.results) for s in reading.samples] == [3, 3]


def test_a_place_may_be_told_by_its_coordinates_alone() -> None:
    reading = read_csv(
        "chemical,date,latitude,longitude,measurement,units\nPFOA,2020-06-29,41.78,-85.2,1.7,ng/L\n"
        "PFOA,2021-09-28,41.78,-85.2,1.7,ng/L\nPFOS,2020-06-29,41.78,-85.2,12,ng/L"
    )
    assert [(s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("41.78, -85.2", "2020-06-29", 2),
        ("41.78, -85.2", "2021-09-28", 1),
    ]


def test_a_station_beats_the_name_of_the_river() -> None:
    reading = read_csv(
        "River,Station,Date,Nitrate (mg/L)\nMill,S1,2024-05-01,1\nMill,S2,2024-05-01,2"
    )
    assert [s.point for s in reading.samples] == ["S1", "S2"]


def test_one_date_that_can_be_read_only_one_way_settles_the_others() -> None:
    reading = read_csv("Site,Date,Nitrate (mg/L)\nA,5/6/2024,1\nA,5/21/2024,2")
    assert [s.collected for s in reading.samples] == ["2024-05-06", "2024-05-21"]
    assert reading.warnings == ()


def test_dates_that_settle_nothing_are_told() -> None:
    reading = read_csv("Site,Date,Nitrate (mg/L)\nA,5/6/2024,1\nA,5/7/2024,2")
    assert [w.code for w in reading.warnings] == ["read.day_or_month"] * 2


def test_a_key_and_its_value_above_a_table_are_no_part_of_its_head() -> None:
    reading = read_csv(
        "Site ID,W1\nSample ID,77\nCollection Date,12-Mar 2024 13:10pm\n"
        "Name,Value,Units\nChloride,5.7,mg/L\nSulphate,<0.5,mg/L"
    )
    assert _samples(reading) == [("77", "W1", "2024-03-12T13:10")]
    assert [brief(r)[:2] for r in reading.results] == [("chloride", "5.7"), ("sulfate", "<0.5")]


def test_two_methods_do_not_explain_two_values_of_a_sample_without_a_name() -> None:
    rows = "Lead,3,ug/L,EPA 200.8\nLead,30,ug/L,EPA 200.9"
    nameless = read_csv(f"Analyte,Result,Units,Method\n{rows}")
    assert {m.code for r in nameless.results for m in r.review} == {"read.twice_different"}
    named = read_csv(f"Sample ID,S-1\nAnalyte,Result,Units,Method\n{rows}")
    assert [r.use for r in named.results] == ["as_is"] * 2


def test_a_number_that_begins_with_that_of_the_report_is_no_blank() -> None:
    # "MB" alone would be a method blank; here the laboratory's reports begin so
    reading = read_csv(
        "Mistral Bay Labs\nReport,MB-8080\n\n"
        "Lab ID,Sample,Analyte,Result,Units,MRL\n"
        "MB-8080-1,Well A,Boron,0.14,mg/L,0.05\n"
        "MB-8080-1,Well A,Lithium,21,ug/L,5\n"
        "MB-8080-2,Well B,Boron,0.09,mg/L,0.05\n"
        "MB-1,Method blank,Boron,0.01,mg/L,0.05\n"
    )
    assert [(s.id, len(s.results)) for s in reading.samples] == [("MB-8080-1", 2), ("MB-8080-2", 1)]
