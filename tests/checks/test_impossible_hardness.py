"""A reporting limit of -3 belongs to no water; the checks must answer and not break."""

from __future__ import annotations

from decimal import Decimal

from welltold.checks import check_sample
from welltold.reading import Result, Sample
from welltold.site import Site


def test_a_hardness_below_a_negative_limit_is_answered() -> None:
    row = Result(
        "hardness", "Hardness", "ND", "below", "<", unit="mg/L", reporting_limit=Decimal(-3)
    )
    found = check_sample(Sample(results=(row,)), (), Site())
    assert "hardness_of_parts" in {one.check for one in found}
    assert all(one.why for one in found)
