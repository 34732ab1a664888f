"""A "sample" whose numbers are known levels, or round and the lowest of the file, is doubted."""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.layout_sheets import read_csv

from welltold.reading import Normalized, Result, Sample
from welltold_parsers.layout.doubt_limits import doubt_limits

SLUGS = ("arsenic", "barium", "selenium", "chloride")


def _sample(name: str, numbers: dict[str, str], state: str = "value") -> Sample:
    results = tuple(
        Result(
            slug,
            slug,
            text,
            "below" if state == "below" else "value",
            value=Decimal(text),
            normalized=Normalized(Decimal(text), "", None),
        )
        for slug, text in numbers.items()
    )
    return Sample(id=name, results=results)


def _codes(*samples: Sample) -> list[set[str]]:
    return [{m.code for r in s.results for m in r.review} for s in doubt_limits(samples)]


def test_round_numbers_that_are_lowest_for_every_test_are_limits() -> None:
    measured = _sample("A", dict(zip(SLUGS, ("3.18", "0.412", "7.2", "31.4"), strict=True)))
    limits = _sample("B", dict(zip(SLUGS, ("1", "0.05", "2", "0.5"), strict=True)))
    assert _codes(measured, limits) == [
        {"read.sample_beside_limits"},
        {"read.sample_of_limits"},
    ]


@pytest.mark.parametrize(
    "numbers", [("1.31", "0.057", "2.4", "0.62"), ("1", "0.5", "9", "40")], ids=["exact", "higher"]
)
def test_measured_numbers_are_no_limits(numbers: tuple[str, ...]) -> None:
    measured = _sample("A", dict(zip(SLUGS, ("3.18", "0.412", "7.2", "31.4"), strict=True)))
    other = _sample("B", dict(zip(SLUGS, numbers, strict=True)))
    assert _codes(measured, other) == [set(), set()]


def test_a_sample_that_says_what_was_not_found_is_no_row_of_limits() -> None:
    measured = _sample("A", dict(zip(SLUGS, ("3.18", "0.412", "7.2", "31.4"), strict=True)))
    clean = _sample("B", dict(zip(SLUGS, ("1", "0.05", "2", "0.5"), strict=True)), state="below")
    assert _codes(measured, clean) == [set(), set()]


def test_a_column_of_levels_under_a_head_nobody_knows_is_doubted() -> None:
    # 40 CFR 141.62 and 141.80: arsenic 10 ug/L, barium 2 mg/L, selenium 50 ug/L, lead 15 ug/L
    reading = read_csv(
        "Analyte,Qam,Units,Zeb\nArsenic,3.1,ug/L,10\nBarium,0.41,mg/L,2\nSelenium,7.2,ug/L,50\n"
        "Lead,1.3,ug/L,15\n"
    )
    assert {"10", "2", "50", "15"}.isdisjoint(
        str(r.value) for r in reading.results if r.use == "as_is"
    )


def test_not_found_without_unit_or_limit_asks_for_the_unit() -> None:
    reading = read_csv("Analyte,Result\nArsenic,ND\nLead,ND\nIron,ND\n")
    assert [{m.code for m in r.review} for r in reading.results] == [{"read.unit_missing"}] * 3
