"""Rows among samples that are none, and parts of such a table: results counted by hand."""

from __future__ import annotations

import pytest
from layout_sheets import from_csv, page, pdf, read_csv, read_page, table

from welltold.reading import Reading
from welltold_parsers.geometry import Document, Sheet
from welltold_parsers.layout import read_document

_WIDE = (50.0, 150.0, 240.0, 330.0, 420.0)


def _told(reading: Reading) -> list[tuple[str | None, str | None, list[str]]]:
    return [(s.point, s.collected, [r.text for r in s.results]) for s in reading.samples]


def test_hours_of_one_tap_under_a_title_that_names_it() -> None:
    reading = read_page(
        (60.0, {50.0: "2. Entry point 3 (Well no. 7 after filters), weekly grab samples"}),
        *table(
            _WIDE,
            "Date | Time | Iron mg/L | Fluoride mg/L | pH\n"
            "03/02/2026 | 0715 | 0.04 | 0.71 | 7.5\n"
            "03/19/2026 | 0740 | 0.06 | 0.69 | 7.6\n"
            "Minimum | | 0.04 | 0.69 | 7.5\n"
            "Average, week 1-2 | | 0.05 | 0.70 | 7.55",
            top=90.0,
        ),
    )
    place = "Entry point 3 (Well no. 7 after filters)"
    assert _told(reading) == [
        (place, "2026-03-02T07:15", ["0.04", "0.71", "7.5"]),
        (place, "2026-03-19T07:40", ["0.06", "0.69", "7.6"]),
    ]
    assert [(w.code, w.text[-3:]) for w in reading.warnings] == [
        ("read.statistics_left_out", " 2.")
    ]
    assert {r.use for r in reading.results} == {"as_is"}


@pytest.mark.parametrize("title", ["2. Wells sampled weekly", "Iron in the plant tap", "Bench log"])
def test_a_title_that_names_no_place_leaves_the_samples_in_doubt(title: str) -> None:
    reading = read_page(
        (60.0, {50.0: title}),
        *table(
            _WIDE,
            "Date | Time | Iron mg/L | Fluoride mg/L\n"
            "03/02/2026 | 0715 | 0.04 | 0.71\n"
            "03/19/2026 | 0740 | 0.06 | 0.69",
            top=90.0,
        ),
    )
    assert [s.point for s in reading.samples] == [None, None]
    assert all("read.sample_nameless" in {m.code for m in r.review} for r in reading.results)


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("Average, finished", "read.statistics_left_out"),
        ("90th percentile (first draw)", "read.statistics_left_out"),
        ("Number of taps", "read.statistics_left_out"),
        ("Previous quarter (June)", "read.history_left_out"),
    ],
)
def test_rows_without_number_and_day_that_sum_up_the_others(name: str, code: str) -> None:
    reading = read_csv(
        "Sample #,Where,Date,Iron (mg/L),Lead (ug/L)\nK-1,Barn,2026-05-01,0.3,2\n"
        f"K-2,House,2026-05-01,0.4,3\n,{name},,7,2.5"
    )
    assert [(s.id, [r.text for r in s.results]) for s in reading.samples] == [
        ("K-1", ["0.3", "2"]),
        ("K-2", ["0.4", "3"]),
    ]
    assert [w.code for w in reading.warnings] == [code]
    assert reading.unread == ()


@pytest.mark.parametrize("name", ["Max Weber farm", "Average Joe Tavern", "Prior Lake ramp"])
def test_a_place_with_a_number_and_a_day_is_no_statistic(name: str) -> None:
    reading = read_csv(
        "Sample #,Where,Date,Iron (mg/L),Lead (ug/L)\nK-1,Barn,2026-05-01,0.3,2\n"
        f"K-2,{name},2026-05-01,7,2.5"
    )
    assert [s.point for s in reading.samples] == ["Barn", name]


def test_a_part_of_quality_control_and_the_part_behind_it() -> None:
    reading = read_page(
        *table(
            _WIDE,
            "Well | Date | Iron mg/L | Lead µg/L | Zinc mg/L\n"
            "TW-1 | 04/02/26 | 0.31 | <1 | 0.05\n"
            "TW-2 | 04/02/26 | not sampled | - | -\n"
            "Quality control\n"
            "Equip. blank | 04/02/26 | <0.05 | <1 | <0.01\n"
            "Bottle 9 | 04/02/26 | <0.05 | <1 | <0.01\n"
            "Private wells\n"
            "PW-8 | 04/03/26 | 0.44 | 2 | 0.07",
        )
    )
    assert _told(reading) == [
        ("TW-1", "2026-04-02", ["0.31", "<1", "0.05"]),
        ("PW-8", "2026-04-03", ["0.44", "2", "0.07"]),
    ]
    assert reading.unread == ()


def test_a_flag_set_above_its_number() -> None:
    document = pdf(
        page(
            *table(
                _WIDE,
                "Well | Date | Iron mg/L | Lead µg/L | Zinc mg/L\n"
                "TW-1 | 04/02/26 | 0.31 | 1.4 | 0.05",
            ),
            (126.0, {240.0 + 22: "B"}),
            (130.0, {50.0: "TW-2", 150.0: "04/02/26", 240.0: "0.2", 330.0: "3", 420.0: "0.06"}),
        )
    )
    second = read_document(document).samples[1]
    assert [(str(r.value), r.qualifiers) for r in second.results] == [
        ("0.2", ("B",)),
        ("3", ()),
        ("0.06", ()),
    ]


def test_a_blank_told_in_a_column_that_is_not_the_number() -> None:
    reading = read_csv(
        "Well_No,Site,Date,Iron (mg/L),Lead (ug/L)\nT-1,Barn,2026-05-01,0.3,2\n"
        "T-F,Field blank,2026-05-01,<0.1,<1"
    )
    assert [[r.text for r in s.results] for s in reading.samples] == [["0.3", "2"]]
    assert [w.code for w in reading.warnings] == ["read.blank_left_out"]


def test_pounds_fed_and_gallons_pumped_are_no_results_and_no_rows_of_the_sheet_before() -> None:
    water = from_csv("Sample #,Date,Iron (mg/L),pH\nK-1,2026-05-01,0.3,7.1\nK-2,2026-05-02,0.4,7.2")
    pumped = from_csv(
        "Date,Well 1 gal,Cl2 lb,F lb\n2026-05-01,61000,1.1,0.5\n2026-05-02,61100,1.2,0.5"
    )
    sheets = tuple(
        Sheet(name, one.sheets[0].rows) for name, one in (("Water", water), ("Pumped", pumped))
    )
    reading = read_document(Document("made.xlsx", "0" * 64, "xlsx", (), sheets))
    assert [(s.id, [r.text for r in s.results]) for s in reading.samples] == [
        ("K-1", ["0.3", "7.1"]),
        ("K-2", ["0.4", "7.2"]),
    ]


@pytest.mark.parametrize("label", ["Static water level", "Well depth", "Pumping flow, 2 h test"])
def test_a_length_or_a_flow_of_the_well_is_no_result(label: str) -> None:
    unit = "gpm" if "flow" in label else "ft"
    reading = read_csv(
        f"Parameter,Units,Result,RL\nIron,mg/L,0.3,0.01\nLead,ug/L,2,0.5\n{label},{unit},18.4,\n"
        "Gloopium,ft,18.4,"
    )
    assert [r.label for r in reading.results] == ["Iron", "Lead", "Gloopium"]
    assert reading.results[-1].review != ()


def test_rows_of_results_under_heads_that_nothing_explains_are_told() -> None:
    reading = read_page(
        (60.0, {50.0: "BENCH SHEET, BOTTLES 8-12"}),
        *table(
            (50.0, 130.0, 260.0, 330.0, 400.0),
            "Tube | Place | XQ | ZB | n\n"
            "8814 | Tolland barn | <1 | <1 | 0\n"
            "8815 | Tolland pond | >200.5 | <1 | 49\n"
            "8816 | Ruhl | 4.1 | <1 | 4",
            top=90.0,
        ),
    )
    assert reading.results == ()
    assert [u.text.split()[0] for u in reading.unread] == ["8814", "8815"]
