"""Lines that tell the place, the test and the result in one."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_page

_TITLE = (60.0, {50.0: "Retest of outlets that were shut off"})


@pytest.mark.parametrize(
    "lines",
    [
        (
            "Room 153 (Sink)(copper): 4.350 mg/L",
            "Room 153 (Sink)(lead): 0.044 mg/L",
            "Room 9 (lead): <0.001 mg/L",
        ),
        (
            "Room 153 sink - copper: 4.350 mg/L",
            "Room 153 sink - lead: 0.044 mg/L",
            "Gym hall - lead: <0.001 mg/L",
        ),
        (
            "Copper, Room 153 sink: 4.350 mg/L",
            "Lead, Room 153 sink: 0.044 mg/L",
            "Lead, kitchen: <0.001 mg/L",
        ),
        (
            "Copper at Room 153 sink = 4.350 mg/L",
            "Lead at Room 153 sink = 0.044 mg/L",
            "Lead in kitchen = <0.001 mg/L",
        ),
        (
            "Copper (Room 153 sink): 4.350 mg/L",
            "Lead (Room 153 sink): 0.044 mg/L",
            "Lead (kitchen): <0.001 mg/L",
        ),
    ],
)
def test_each_line_tells_its_place_its_test_and_its_result(lines: tuple[str, ...]) -> None:
    placed = [(100.0 + 30 * at, {50.0: text}) for at, text in enumerate(lines)]
    first, second = read_page(_TITLE, *placed).samples
    assert str(first.point).startswith("Room 153")
    assert [brief(r)[:3] for r in first.results] == [
        ("copper", "4.350", "mg/L"),
        ("lead", "0.044", "mg/L"),
    ]
    assert str(second.point).lower() in {"room 9", "gym hall", "kitchen"}
    assert [brief(r)[:3] for r in second.results] == [("lead", "<0.001", "mg/L")]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("Iron, dissolved: 0.31 mg/L", ("iron", "0.31", "mg/L")),
        ("Alkalinity (total): 187 mg/L", ("alkalinity", "187", "mg/L")),
        ("Lead - EPA 200.8: 2.1 ug/L", ("lead", "2.1", "ug/L")),
    ],
)
def test_what_stands_beside_a_name_is_no_place_if_no_word_says_so(
    line: str, told: tuple[str, str, str]
) -> None:
    reading = read_page(_TITLE, (100.0, {50.0: line}))
    assert [(s.point, brief(r)[:3]) for s in reading.samples for r in s.results] in (
        [(None, told)],
        [],
    )
