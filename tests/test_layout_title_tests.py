"""The only test of a sheet, named in its title: other words of the page may look like tests."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_page, table

_LEFTS = (40.0, 110.0, 260.0, 340.0)
_ROWS = (
    "Outlet ID | Location | First draw | 30-sec flush\n"
    "N-01 | Rm 101 sink | 1.2 | <1.0\n"
    "N-02 | Rm 103 bubbler | 6.7 | 2.1\n"
    "G-01 | Gym fountain | 18.4 | 3.5"
)


def told(title: str, below: str) -> list[tuple[str | None, str, str | None, str | None]]:
    """Return what is read of two draws at three outlets under a title."""
    lines = table(_LEFTS, _ROWS)
    reading = read_page((66.0, {40.0: title}), (80.0, {40.0: below}), *lines)
    return [brief(result) for sample in reading.samples for result in sample.results]


def test_what_the_title_begins_with_goes_before_the_name_of_a_laboratory() -> None:
    found = told(
        "Lead in School Drinking Water",
        "Analyzed by Ferrous Ridge Laboratory. All results in parts per billion (ppb).",
    )
    numbers = ["1.2", "<1.0", "6.7", "2.1", "18.4", "3.5"]
    assert [(slug, number) for slug, number, *_ in found] == [("lead", n) for n in numbers]


@pytest.mark.parametrize("title", ["Iron Mountain Schools: lead", "Copper Harbor, lead and iron"])
def test_a_town_called_after_a_metal_is_no_title_of_a_test(title: str) -> None:
    assert "iron" not in {slug for slug, *_ in told(title, "All results in ppb.")}
    assert "copper" not in {slug for slug, *_ in told(title, "All results in ppb.")}
