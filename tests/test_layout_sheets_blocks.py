"""Sheets of a workbook that need more than one table: blocks, stacked heads, hidden parts."""

from __future__ import annotations

from dataclasses import replace

from tests.layout_sheets import brief, from_csv, read_csv

from welltold.reading import Reading
from welltold_parsers.geometry import Document
from welltold_parsers.layout import read_document

BLOCKS = """
Larkfield Analytical
Lab No:,L-11-1,,Sample:,Cabin 1
Sampled:,07/10/2023 9:30,,Received:,07/11/2023 08:00
Analysis,Method,MRL,Result,Units
Copper,EPA 200.7,0.01,0.025,mg/L
Lead,EPA 200.8,1,ND,ug/L
Lab No:,L-11-2,,Sample:,Cabin 2
Sampled:,07/10/2023 10:30,,Received:,07/11/2023 08:00
Analysis,Method,MRL,Result,Units
Copper,EPA 200.7,0.01,0.034,mg/L
Lead,EPA 200.8,1,12.5,ug/L
"""


def test_keys_right_above_a_head_begin_a_block_for_each_sample() -> None:
    reading = read_csv(BLOCKS)
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("L-11-1", "Cabin 1", "2023-07-10T09:30"),
        ("L-11-2", "Cabin 2", "2023-07-10T10:30"),
    ]
    assert [brief(r)[:3] for r in reading.samples[0].results] == [
        ("copper", "0.025", "mg/L"),
        ("lead", "<1", "ug/L"),
    ]
    assert all(r.use == "as_is" for r in reading.results)


STACKED = """
Chemical,CAS,Unit,Screening Level,COLD-11,,COLD-14,
,,,,2024-02-06,,2024-02-07,
,,,,Result,Q,Result,Q
Arsenic,7440-38-2,ug/L,10,1,U,7.1,
Barium,7440-39-3,mg/L,2,0.231,J,0.217,J
Lead,7439-92-1,ug/L,15,1.9,,10.4,
"""


def test_three_rows_of_heads_names_days_and_pairs_of_result_and_flag() -> None:
    reading = read_csv(STACKED)
    assert [(s.id, s.collected, len(s.results)) for s in reading.samples] == [
        ("COLD-11", "2024-02-06", 3),
        ("COLD-14", "2024-02-07", 3),
    ]
    first = reading.samples[0].results[0]
    assert brief(first) == ("arsenic", "<1", "ug/L", None)
    assert first.printed_limit == "10"


def hide(text: str, columns: frozenset[int], rows: frozenset[int] = frozenset()) -> Reading:
    made = from_csv(text)
    sheet = replace(made.sheets[0], hidden_columns=columns, hidden_rows=rows)
    return read_document(Document("made.xlsx", "0" * 64, "xlsx", (), (sheet,)))


TAPS = """
Outlet,2021 Lead,2021 Date,Sampled,Lead (ug/L)
P01,6.5,2021-02-09,2024-12-19,3.8
P02,0.9,2021-02-09,2024-12-19,<1.0
P03,11.2,2021-02-09,2024-12-19,6.6
"""


def test_hidden_columns_of_numbers_are_no_results_and_are_told_once() -> None:
    reading = hide(TAPS, frozenset({2, 3}))
    assert [r.text for r in reading.results] == ["3.8", "<1.0", "6.6"]
    assert {s.collected for s in reading.samples} == {"2024-12-19"}
    assert [(u.text, u.reason.code, u.where.cell) for u in reading.unread] == [
        ("2021 Lead: 6.5", "read.column_hidden", "B2")
    ]


def test_a_hidden_column_that_serves_the_results_still_does() -> None:
    text = "Analyte,Result,Units,RL\nLead,ND,ug/L,1\nIron,0.3,mg/L,0.1\nZinc,ND,mg/L,0.2"
    reading = hide(text, frozenset({3, 4}))
    assert [brief(r)[:3] for r in reading.results] == [
        ("lead", "<1", "ug/L"),
        ("iron", "0.3", "mg/L"),
        ("zinc", "<0.2", "mg/L"),
    ]
    assert reading.unread == ()


def test_hidden_rows_are_no_results_and_are_told_once() -> None:
    text = "Analyte,Result,Units\nLead,1.1,ug/L\nIron,0.3,mg/L\nZinc,0.5,mg/L"
    reading = hide(text, frozenset(), frozenset({3, 4}))
    assert [r.analyte for r in reading.results] == ["lead"]
    assert [(u.text, u.reason.code) for u in reading.unread] == [
        ("Iron  0.3  mg/L", "read.rows_hidden")
    ]


def test_a_sheet_named_for_quality_control_holds_no_results() -> None:
    shown = from_csv("Analyte,Result,Units\nLead,1.1,ug/L").sheets[0]
    control = from_csv("Determinand,Control found,Unit\nLead,9.8,ug/L\nNitrate as N,9.8,mg/L")
    after = from_csv("Analyte,Result,Units\nIron,0.2,mg/L").sheets[0]
    sheets = (
        replace(shown, name="Metals"),
        replace(control.sheets[0], name="QC"),
        replace(after, name="More"),
    )
    reading = read_document(Document("made.xlsx", "0" * 64, "xlsx", (), sheets))
    assert [r.analyte for r in reading.results] == ["lead", "iron"]


def test_a_grid_of_places_and_days_under_the_name_of_its_test() -> None:
    reading = read_csv(
        "LEAD RESULTS (ug/L)\nSite,2024-05-01,2024-06-01\nBarn,1.2,<1\nHouse,2.2,\nWell,ND,1.3"
    )
    told = {(s.point, s.collected): [brief(r)[:3] for r in s.results] for s in reading.samples}
    assert told == {
        ("Barn", "2024-05-01"): [("lead", "1.2", "ug/L")],
        ("Barn", "2024-06-01"): [("lead", "<1", "ug/L")],
        ("House", "2024-05-01"): [("lead", "2.2", "ug/L")],
        ("Well", "2024-05-01"): [("lead", "<", "ug/L")],
        ("Well", "2024-06-01"): [("lead", "1.3", "ug/L")],
    }


def test_a_grid_of_months_is_told_and_not_read() -> None:
    reading = read_csv("Nitrate as N by site (mg/L)\nSite,Jan 2024,Feb 2024\nBarn,1.2,1.3")
    assert reading.results == ()
    assert [u.text for u in reading.unread] == ["Barn 1.2", "Barn 1.3"]
