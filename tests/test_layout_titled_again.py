"""Tables printed again under another title, and samples told by keys run together over a table."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv, read_page, table

_LIST = """
Variable|Value
Iron (ppm)|{}
Hardness, CaCO3 (ppm)|{}
Nitrate, NO3-N (ppm)|{} (SAFE)
pH|{}
"""
_FIRST, _SECOND = ("1.9", "254", "0.3", "7.2"), ("0.05", "< 1", "< 0.1", "7.4")


def _told(values: tuple[str, ...]) -> list[tuple[str, str]]:
    names = ("iron", "hardness", "nitrate", "ph")
    return [(name, value.replace(" ", "")) for name, value in zip(names, values, strict=True)]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Tap water", "Filtered tap water"),
        ("Before softener", "After softener"),
        ("Well 1", "Well 2"),
        ("House", "Barn hydrant"),
    ],
)
def test_the_titles_over_one_list_printed_twice_name_the_samples(one: str, other: str) -> None:
    lines = []
    for top, title, values in ((80.0, one, _FIRST), (300.0, other, _SECOND)):
        lines.append((top, {50.0: title}))
        lines += table((50.0, 300.0), _LIST.format(*values), top=top + 20)
    first, second = read_page(*lines).samples
    assert (first.point or first.id, second.point or second.id) == (one, other)
    assert [brief(r)[:2] for r in first.results] == _told(_FIRST)
    assert [brief(r)[:2] for r in second.results] == _told(_SECOND)
    assert not any(r.review for r in (*first.results, *second.results))


@pytest.mark.parametrize(
    ("one", "other"), [("Total metals", "Dissolved metals"), ("Page one", "Page two, continued")]
)
def test_titles_that_name_no_place_part_nothing(one: str, other: str) -> None:
    lines = []
    for top, title, values in ((80.0, one, _FIRST), (300.0, other, _SECOND)):
        lines.append((top, {50.0: title}))
        lines += table((50.0, 300.0), _LIST.format(*values), top=top + 20)
    assert all(s.point is None for s in read_page(*lines).samples)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (
            "Sample SMP-0099 Collected 05-13-2026 Type: Routine Point: Tap 1",
            "Sample SMP-0105 Collected 06-22-2026 Type: Confirmation Point: Tap 1",
        ),
        (
            "Lab ID SMP-0099 Sampled 05/13/2026 Location: Tap 1",
            "Lab ID SMP-0105 Sampled 06/22/2026 Location: Tap 1",
        ),
        (
            "Sample No. SMP-0099 Date Collected 5/13/26 Received 5/14/26 Sample Point: Tap 1",
            "Sample No. SMP-0105 Date Collected 6/22/26 Received 6/23/26 Sample Point: Tap 1",
        ),
    ],
)
def test_keys_run_together_before_one_with_a_colon_name_the_sample(first: str, second: str) -> None:
    reading = read_csv(
        f"{first}\nAnalyte Name,Result,MCL\nNITRATE,12.8 MG/L,10 MG/L\nCOLIFORM (TCR),Absent,\n"
        f"{second}\nAnalyte Name,Result,MCL\nNITRATE,13.1 MG/L,10 MG/L\n"
    )
    assert [(s.id, s.point, str(s.collected)[:10]) for s in reading.samples] == [
        ("SMP-0099", "Tap 1", "2026-05-13"),
        ("SMP-0105", "Tap 1", "2026-06-22"),
    ]
    assert [[r.analyte for r in s.results] for s in reading.samples] == [
        ["nitrate", "total_coliform"],
        ["nitrate"],
    ]
