"""What page 1 says of a doubtful check is what the check found."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from checks.made import row

from welltold.checks.kinds import doubt_about
from welltold.interpretation import Check
from welltold.messages import say
from welltold.reading import Reading, Result, Sample, Source
from welltold.verdicts import interpret
from welltold_reports.homeowner import build

DISAGREE = say("report.sure_disagree").text


def sure(*rows: Result, **sample: Any) -> tuple[str, ...]:
    """Return how sure page 1 says that all this is."""
    reading = Reading(
        Source("a.csv", "0" * 64, "csv", 1), samples=(Sample(results=rows, **sample),)
    )
    view = interpret(reading, as_of=date(2026, 11, 25))
    lines: tuple[str, ...] = build(view, 0).first.sure
    return lines


def test_a_bottle_that_waited_is_not_called_numbers_that_differ() -> None:
    # 30 hours from collection to the start of the test: EPA answer on 40 CFR 141.21(f)(3)
    late = sure(row("e_coli", "Absent"), collected="2026-11-02T08:00", received="2026-11-05T09:00")
    assert say("report.sure_waiting").text in late
    assert DISAGREE not in late


def test_each_kind_of_doubt_has_its_own_sentence() -> None:
    cases: tuple[tuple[str, tuple[Result, ...], dict[str, Any]], ...] = (
        ("dates", (row("nitrate", "2"),),
         {"collected": "2026-11-05", "received": "2026-11-02"}),
        ("strange", (row("lead", "15", "mg/L"),), {}),
        ("place", (row("hardness", "3"), row("sodium", "120")), {}),
        ("disagree", (row("hardness", "120"), row("calcium", "80"), row("magnesium", "20")), {}),
    )  # fmt: skip
    for about, rows, sample in cases:
        told = sure(*rows, **sample)
        assert say(f"report.sure_{about}").text in told, about
        assert (DISAGREE in told) is (about == "disagree")


@pytest.mark.parametrize(
    ("check", "about"),
    [
        ("hold_time:nitrate", "waiting"),
        ("dates", "dates"),
        ("unit_slip:lead", "strange"),
        ("natural_range:nitrate", "strange"),
        ("possible_value:ph", "strange"),
        ("behind_equipment", "place"),
        ("ion_balance", "disagree"),
        ("duplicates:nitrate", "disagree"),
        ("ph_field_lab", "disagree"),
    ],
)
def test_what_a_check_is_about(check: str, about: str) -> None:
    assert doubt_about(Check(check, "doubt", None, None, ())) == about
