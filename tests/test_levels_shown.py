"""The one level beside a result is the level that decided about it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from welltold.reading import Reading, Result, Sample, Source
from welltold.site import Home, Site
from welltold.verdicts import interpret
from welltold_reports.homeowner.printed import items_of


def shown(slug: str, amount: str, unit: str, *, diet: bool = False) -> tuple[str, str]:
    """Return the level that a table shows beside a result, as number and kind."""
    row = Result(slug, slug, amount, "value", value=Decimal(amount), unit=unit)
    sample = Sample(taken="first_draw", results=(row,))
    reading = Reading(Source("a.csv", "0" * 64, "csv", 1), samples=(sample,))
    site = Site(home=Home(persons=("low_sodium_diet",) if diet else ()))
    view = interpret(reading, as_of=date(2026, 11, 25), site=site)
    items = items_of(view.samples[0], sample)
    item = next(one for one in items if one.finding.analyte == slug)
    level = item.yardstick
    assert level is not None
    return f"{level.value} {level.unit}", level.status


@pytest.mark.parametrize(
    ("slug", "amount", "level", "status"),
    [
        # 40 CFR 143.3: sulfate 250 mg/L; the 500 of EPA 811-F-94-007 was only proposed
        ("sulfate", "100", "250 mg/L", "in_force"),
        ("sulfate", "300", "250 mg/L", "in_force"),
        ("sulfate", "600", "500 mg/L", "proposed"),
        # EPA 822-R-03-006: 60 mg/L by taste; 20 only for a low-salt diet
        ("sodium", "25", "60 mg/L", "advisory"),
        ("sodium", "10", "60 mg/L", "advisory"),
        # 40 CFR 141.62(b)(1), 141.208
        ("fluoride", "1", "4.0 mg/L", "in_force"),
        ("fluoride", "2.5", "2.0 mg/L", "advisory"),
        # 40 CFR 141.80(c)
        ("copper", "0.5", "1.3 mg/L", "in_force"),
        ("lead", "0.002", "0.01 mg/L", "adopted_not_applying"),
    ],
)
def test_the_row_shows_the_level_that_decided(
    slug: str, amount: str, level: str, status: str
) -> None:
    assert shown(slug, amount, "mg/L") == (level, status)


def test_the_diet_level_is_shown_where_somebody_needs_it() -> None:
    assert shown("sodium", "25", "mg/L", diet=True) == ("20 mg/L", "advisory")
