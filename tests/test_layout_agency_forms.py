"""Forms and pages of agencies and inspectors: what their tables, notes and remarks say twice."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_page, table

_LEFTS = (40.0, 200.0, 330.0)
_ROWS = (
    "Test | Your water | Maximum\n"
    "{lead} | 0.006 mg/L | 0.015\n"
    "Nitrate | 11.4 mg/L (as N) | 10\n"
    "Nitrite | ND mg/L (as N) | 1"
)


@pytest.mark.parametrize(
    "label",
    [
        "Lead (first draw, kitchen)",
        "Lead - 1st draw, bathroom tap",
        "Lead, flushed 5 min at kitchen",
        "Lead [first draw]",
    ],
)
def test_a_name_tells_how_and_where_its_bottle_was_filled(label: str) -> None:
    reading = read_page(*table(_LEFTS, _ROWS.format(lead=label)))
    lead = reading.results[0]
    assert (lead.analyte, lead.text, lead.review) == ("lead", "0.006 mg/L", ())


@pytest.mark.parametrize(
    "words",
    [
        "Summary: water does NOT meet the standard. Nitrate of 11.4 mg/L was found. See a plumber.",
        "Your nitrate is 11.4 mg/L and should be treated.",
        "Nitrate was found at 11.4 ppm.",
    ],
)
def test_a_summary_says_a_result_of_the_table_again(words: str) -> None:
    reading = read_page(*table(_LEFTS, _ROWS.format(lead="Lead")), (200.0, {60.0: words}))
    assert [brief(r) for r in reading.results] == [
        ("lead", "0.006", "mg/L", None),
        ("nitrate", "11.4", "mg/L (as N)", "N"),
        ("nitrite", "<", "mg/L (as N)", "N"),
    ]


@pytest.mark.parametrize(
    "whose", ["of the laboratory", "for these tests", "of our contract lab", "by method"]
)
def test_the_limits_that_a_note_lists_may_say_whose_they_are(whose: str) -> None:
    note = f"ND: none detected. Reporting limits {whose}: nitrite 0.05 mg/L, arsenic 0.002 mg/L."
    reading = read_page(*table(_LEFTS, _ROWS.format(lead="Lead")), (200.0, {40.0: note}))
    assert brief(reading.results[-1]) == ("nitrite", "<0.05", "mg/L (as N)", "N")


def test_ticked_answers_below_the_dates_of_a_form_are_read() -> None:
    boxes = {340.0: "☒ Absent", 420.0: "☐ Present"}
    reading = read_page(
        (
            60.0,
            {135.0: "RECEIVED", 258.0: "TEMP. ON RECEIPT", 345.0: "ANALYZED", 484.0: "REPORTED"},
        ),
        (70.0, {135.0: "06/17/26", 258.0: "4.8 C", 345.0: "06/17/26", 484.0: "06/25/26"}),
        (90.0, {182.0: "Total Coliform", **boxes}),
        (101.0, {44.0: "BACTERIOLOGICAL", 182.0: "E. coli", **boxes}),
        (112.0, {44.0: "Colilert P/A, SM 9223 B, 100 mL"}),
    )
    assert [brief(r)[:2] for r in reading.results] == [
        ("total_coliform", "absent"),
        ("e_coli", "absent"),
    ]


@pytest.mark.parametrize("keys", [("Sample drawn", "Sample location"), ("Collected", "Location:")])
def test_a_key_may_stand_in_the_middle_of_two_lines_of_its_value(keys: tuple[str, str]) -> None:
    reading = read_page(
        (40.0, {228.0: "09/29/2026, 10:05 AM by inspector; lead bottle first draw, others after"}),
        (45.0, {50.0: keys[0]}),
        (50.5, {228.0: "5 min flush"}),
        (66.0, {50.0: keys[1], 228.0: "Kitchen faucet (no aerator)"}),
        (82.0, {228.0: "Bluestem Analytical, Cert. 10-774; lab ID BA2609-311; completed"}),
        (87.0, {50.0: "Laboratory"}),
        (92.5, {228.0: "10/16/2026"}),
        *table(_LEFTS, _ROWS.format(lead="Lead"), top=120.0),
    )
    (sample,) = reading.samples
    assert (sample.point, sample.collected) == ("Kitchen faucet (no aerator)", "2026-09-29T10:05")
    assert len(sample.results) == 3
