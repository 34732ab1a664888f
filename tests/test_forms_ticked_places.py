"""Boxes that judge a result beside them, and boxes that choose among places."""

from __future__ import annotations

import pytest
from tests.layout_sheets import read_page, table

from welltold_parsers.layout.ticked_places import ticked_place

_LEFTS = (40.0, 160.0, 240.0, 340.0, 400.0)


def test_boxes_under_pass_and_fail_leave_the_result_beside_them() -> None:
    rows = (
        "Test | Limit | Result | Pass | Fail\nTotal Coliform | Absent | Absent | ☒ | ☐\n"
        "E. coli | Absent | Present | ☐ | ☒\nNitrate-N | 10 | 1.4 mg/L | ☒ | ☐"
    )
    reading = read_page(*table(_LEFTS, rows))
    assert [(r.analyte, r.state, r.text) for r in reading.results] == [
        ("total_coliform", "absent", "Absent"),
        ("e_coli", "present", "Present"),
        ("nitrate", "value", "1.4 mg/L"),
    ]
    assert not reading.unread


def test_the_limit_of_a_row_without_a_result_is_never_its_result() -> None:
    rows = (
        "Test | Limit | Result | Pass | Fail\nTotal Coliform | Absent | | ☒ | ☐\n"
        "Nitrate-N | 10 | 1.4 mg/L | ☒ | ☐"
    )
    reading = read_page(*table(_LEFTS, rows))
    assert [r.analyte for r in reading.results] == ["nitrate"]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("☒ Kitchen ☐ Bath", "Kitchen"),
        ("Kitchen ☐ / Bath ☒", "Bath"),
        ("[ ] Well head, [X] Barn tap", "Barn tap"),
        ("☐ Kitchen ☐ Bath", ""),
        ("☒ Kitchen ☒ Bath", ""),
        ("Tap ☒ Kitchen ☐ Bath", ""),
        ("Well 3 (north)", "Well 3 (north)"),
    ],
)
def test_the_only_ticked_word_is_the_place(text: str, place: str) -> None:
    assert ticked_place(text) == place


def test_a_ticked_kind_of_source_is_no_place() -> None:
    reading = read_page(
        (60.0, {40.0: "Source: ☐ Public ☒ Private well", 400.0: "Lab no. LM-60231"}),
        *table(_LEFTS, "Test | Limit | Result\nNitrate-N | 10 | 1.4 mg/L\nLead | 15 | 3 ug/L"),
    )
    assert [s.point for s in reading.samples] == [None]
