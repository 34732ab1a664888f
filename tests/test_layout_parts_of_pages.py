"""What stands beside results on a page and is none: recoveries, aliquots, blanks, ranges."""

from __future__ import annotations

import pytest
from layout_sheets import brief, page, pdf, read_page, table

from welltold_parsers.layout import read_document

_LEFT = (40.0, 80.0, 260.0, 340.0, 400.0, 460.0)


def test_recoveries_below_a_head_of_their_own_within_a_table() -> None:
    reading = read_page(
        *table(
            _LEFT,
            "NO | COMPOUND | CAS NUMBER | RESULT | FLAG | RPT LIMIT\n"
            "| | | ug/L | | ug/L\n"
            "1 | Benzene | 71-43-2 | ND | | 0.50\n"
            "2 | Toluene | 108-88-3 | 0.62 | | 0.50\n"
            "| SURROGATE COMPOUNDS | | % RECOVERY | | QC LIMITS\n"
            "| 4-Bromofluorobenzene | | 96.4 | | 70-130\n"
            "| Toluene-d8 | | 98.8 | | 70-130",
        )
    )
    assert [brief(r) for r in reading.results] == [
        ("benzene", "<0.50", "ug/L", None),
        ("toluene", "0.62", "ug/L", None),
    ]
    assert [(w.code, w.text[-3:]) for w in reading.warnings] == [("read.qc_left_out", " 2.")]


def test_how_much_was_sent_is_no_number_of_a_sample() -> None:
    pages = [
        page(
            (40.0, {40.0: "Field ID:", 120.0: f"Well {at}", 300.0: "Matrix:", 380.0: "WATER"}),
            (55.0, {40.0: "Lab ID:", 120.0: f"62107-00{at}"}),
            (70.0, {40.0: "Sample Aliquot:", 140.0: "500 mL (gross), 1000 mL (Ra, U)"}),
            *table(
                _LEFT,
                "Analyte | | Result | MDC | Units | Qual\n"
                f"Gross Alpha | | {at}.41 | 1.98 | pCi/L |\n"
                f"Radium-226 | | 1.{at}2 | 0.19 | pCi/L |",
            ),
            (200.0, {40.0: "Data Package ID: RAD62107-1"}),
            number=at,
        )
        for at in (1, 2)
    ]
    reading = read_document(pdf(*pages))
    assert [(s.id, s.point) for s in reading.samples] == [
        ("62107-001", "Well 1"),
        ("62107-002", "Well 2"),
    ]
    assert [[r.text for r in s.results] for s in reading.samples] == [
        ["1.41", "1.12"],
        ["2.41", "1.22"],
    ]


def test_a_place_that_ends_in_the_word_of_a_key() -> None:
    reading = read_page(
        (40.0, {40.0: "Sample No.: W91 Location: Kitchen tap Sampled: 10/29/2026"}),
        (60.0, {40.0: "Nitrate-N", 200.0: "4.2 mg/L"}),
    )
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("W91", "Kitchen tap", "2026-10-29")
    ]


def test_names_below_a_head_whose_samples_numbers_stand_above_it() -> None:
    reading = read_page(
        (80.0, {140.0: "AB26-41-01", 240.0: "AB26-41-02"}),
        *table(
            (40.0, 140.0, 240.0, 360.0, 420.0),
            "Analyte | | | MRL | Units\n"
            "| Kitchen tap | Field Reagent Blank | |\n"
            "PFOA | 6.1 | ND | 2.0 | ng/L\n"
            "PFOS | 4.4 | ND | 2.0 | ng/L",
            top=92.0,
            pitch=12.0,
        ),
    )
    assert [(s.id, s.point, [r.text for r in s.results]) for s in reading.samples] == [
        ("AB26-41-01", "Kitchen tap", ["6.1", "4.4"])
    ]


@pytest.mark.parametrize("name", ["FRB-1 (Field Reagent Blank)", "Stop 4 (Trip Blank)"])
def test_what_a_bottle_is_in_brackets_behind_its_name(name: str) -> None:
    reading = read_page(
        (40.0, {40.0: f"Client Sample ID: {name}", 300.0: "Lab Sample ID: 410-88-3"}),
        *table(_LEFT, "Analyte | | Result | RL | Unit |\nPFOA | | ND | 1.9 | ng/L |"),
    )
    assert reading.results == ()
    assert [w.code for w in reading.warnings] == ["read.blank_left_out"]


def test_a_range_in_a_sentence_is_no_result() -> None:
    reading = read_page(
        (40.0, {40.0: "Radon", 200.0: "4120 pCi/L"}),
        (90.0, {40.0: "mitigation between 2,000 and 10,000 pCi/L where air radon is elevated."}),
    )
    assert [r.text for r in reading.results] == ["4120 pCi/L"]
