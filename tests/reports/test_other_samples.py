"""What page 1 of one sample tells of the others on the same sheet."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
import report_making as making
from rich.console import Console

import welltold
from welltold.interpretation import Finding, SampleView
from welltold.messages import Language
from welltold_reports.homeowner import build
from welltold_reports.html import homeowner_html
from welltold_reports.terminal import print_terminal

SHEET = Path(__file__).parents[2] / "samples" / "sheets" / "acid-copper.pdf"
TOLD = (
    "Another sample on this sheet, HG260318-1A, has a health concern: lead and copper. "
    "Read its report too, before you rely on this page."
)
GRAVE = Finding("arsenic", "Arsenic", "0.02", "health_concern", value=Decimal("0.02"))


def lines(
    *others: SampleView, findings: tuple[Finding, ...] = (), point: str | None = None
) -> tuple[str, ...]:
    mine = SampleView("1B", point, "2026-03-18T06:22", None, findings)
    sheet = making.Sheet()
    return build(making.view_of((mine, sheet), *((one, sheet) for one in others)), 0).first.main


def test_the_flushed_bottle_names_what_the_first_draw_found() -> None:
    view = welltold.interpret(welltold.read(SHEET))
    assert build(view, 1).first.main[0] == TOLD
    assert not any("on this sheet, HG" in line for line in build(view, 0).first.main)
    console = Console(width=300, record=True)
    print_terminal(view, console)
    assert TOLD in console.export_text()
    assert TOLD in homeowner_html(build(view, 1))


def test_a_sheet_with_the_pair_asks_for_no_pair() -> None:
    view = welltold.interpret(welltold.read(SHEET))
    for index in (0, 1):
        steps = " ".join(step.text for step in build(view, index).first.steps)
        assert "first water of the morning" not in steps
        assert "Test two samples" not in steps


@pytest.mark.parametrize(
    ("point", "collected", "told"),
    [
        ("Kitchen", "2026-03-18T06:15", True),
        (None, "2026-03-18", True),
        ("Kitchen", "2025-01-02", True),
        ("Barn", "2025-01-02", False),
        ("Barn", "2026-03-18T06:15", False),  # a survey: another home, which is nobody's business
        (None, None, False),
    ],
)
def test_only_a_sample_of_the_same_place_or_of_that_day_and_no_place_is_named(
    point: str | None, collected: str | None, *, told: bool
) -> None:
    other = SampleView("1A", point, collected, None, (GRAVE,))
    found = lines(other, point="Kitchen")
    assert (
        "Another sample on this sheet, 1A, has a health concern: arsenic. "
        "Read its report too, before you rely on this page." in found
    ) is told


def test_what_this_sample_has_too_is_not_told_again() -> None:
    other = SampleView("1A", None, "2026-03-18", None, (GRAVE,))
    assert not any("another sample" in line.lower() for line in lines(other, findings=(GRAVE,)))


def test_two_others_share_one_sentence() -> None:
    lead = Finding("lead", "Lead", "0.02", "health_concern", value=Decimal("0.02"))
    others = (
        SampleView("1A", None, "2026-03-18", None, (GRAVE,)),
        SampleView(None, None, "2026-03-18", None, (GRAVE, lead)),
    )
    assert lines(*others)[0] == (
        "Other samples on this sheet, 1A and number 3, have health concerns: arsenic and lead. "
        "Read their reports too, before you rely on this page."
    )


@pytest.mark.parametrize("language", ["es"])
def test_it_is_told_in_spanish(language: Language) -> None:
    view = welltold.interpret(welltold.read(SHEET), language=language)
    assert "HG260318-1A" in build(view, 1).first.main[0]
